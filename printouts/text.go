package printouts

import (
	"fmt"
	"strings"

	"nospark/printouts/page"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// WorksheetText is the plain-text twin of a worksheet for a screen reader or a braille display: the same lines and codes, in reading
// order, with the columns of the grid spelt out. Where the paper has ruled lines it has fields to fill in.
func WorksheetText(h handout.Handout, w handout.Worksheet) string {
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("%s", h.Title)
	p("%s", joined(" - ", h.Program, h.Date))
	p("Sheet %s", w.Code)
	p("Name: %s", joined(", ", w.Name, w.Student, w.Section))
	p("\nComplaint\n%s", w.Complaint)
	if text := forbiddenText(h); text != "" {
		p("%s", text)
	}
	p("\nVehicle")
	for _, f := range h.Reference.Vehicle {
		p("%s: %s", f.Name, f.Value)
	}
	p("\nSafety\n%s", page.ShortCautionsText())
	p("\nHow to work\n%s", howToWork)
	p("\nTests at the numbered points")
	p("The number after each condition is the line to ask for. Add the minutes of access to the minutes of the test.")
	// spelt out row by row: a listener has no columns
	for i, row := range w.Grid {
		point := h.Reference.Points[i]
		p("\nPoint %d, %s, access %s min", point.Number, point.Label, minutes(point.Access))
		for _, s := range sweeps(h.Reference.Columns) {
			for c := s.from; c < s.to; c++ {
				if row[c].Line != 0 {
					column := h.Reference.Columns[c]
					p("  %s, %s, %s min: line %s", column.Label, column.Condition, minutes(column.Minutes), line(row[c].Line))
				}
			}
		}
	}
	for _, t := range w.Tables {
		p("\n%s", t.Heading)
		for _, r := range t.Rows {
			p("  %s, %s, %s, %s min: line %s", r.Label, r.Meter, r.Condition, minutes(r.Minutes), line(r.Line))
		}
	}
	p("\nRecord. For each test: the test, what the reading should be, the line, its minutes; then what the partner answers, letters and")
	p("reading; then OK or not OK, and what it rules out. Where the reading is \"engine does not run\" OK stays empty.")
	for i := range h.Rows {
		p("%d. test: ; expected: ; line: ; minutes: ; letters: ; reading: ; OK: ; rules out:", i+1)
	}
	p("Total minutes:")
	p("\nConclusion\nRepair, %s:\nReason:", repairCode)
	return b.String()
}

// ReadingsText is the plain-text twin of a readings sheet.
func ReadingsText(h handout.Handout, r handout.ReadingsSheet) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\nReadings for sheet %s. For the partner only.\n%s\n\n", h.Title, r.Code, howToAnswer)
	for _, l := range r.Lines {
		b.WriteString(answer(l) + "\n")
	}
	// a picture cannot be told in words; it is named, so that nobody looks for a missing line
	for _, p := range r.Plots {
		fmt.Fprintf(&b, "%s: oscilloscope picture, %s\n", line(p.Line), p.Title)
	}
	return b.String()
}

// answer is a line of the readings sheet: "214 KQ 12.39 V, battery 12.56 V".
func answer(l handout.ReadingLine) string {
	return line(l.Number) + " " + l.Letters + " " + joined(", ", l.Reading, l.Beside)
}

// line is a line's number as printed, three digits.
func line(n int) string { return fmt.Sprintf("%03d", n) }

// minutes prints tenths of a minute: "2", "0.5".
func minutes(tenths int64) string {
	if tenths%10 == 0 {
		return fmt.Sprint(tenths / 10)
	}
	return fmt.Sprintf("%d.%d", tenths/10, tenths%10)
}

// joined puts the texts that are not empty one after the other.
func joined(between string, texts ...string) string {
	var some []string
	for _, t := range texts {
		if t != "" {
			some = append(some, t)
		}
	}
	return strings.Join(some, between)
}

// span is a run of columns of one sweep.
type span struct{ from, to int }

// sweeps finds the runs of columns that share instrument and leads.
func sweeps(columns []lab.Column) []span {
	var all []span
	for i, c := range columns {
		if n := len(all); n > 0 && columns[i-1].Sweep == c.Sweep {
			all[n-1].to = i + 1
			continue
		}
		all = append(all, span{i, i + 1})
	}
	return all
}
