package handout

import (
	"cmp"
	"fmt"
	"slices"

	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// Of is what of a lab may be given to students. It follows from the lab alone: the reference pages come from the text
// of the pack that the lab keeps. The error says that this program cannot read that text any more.
func Of(l *lab.Lab) (Handout, error) {
	p, err := l.KeptPack()
	if err != nil {
		return Handout{}, err
	}
	return With(l, p)
}

// With is the same where the text of the pack that the lab keeps has been read already.
func With(l *lab.Lab, p *pack.Pack) (Handout, error) {
	h := Handout{Program: l.Program, Lab: l.Name, Title: l.Title, Date: l.Date, Paper: l.Paper, Rows: l.Rows,
		Closed: l.Closed, Lacks: l.Lacks,
		Nothing: l.Faults[len(l.Faults)-1].ID == lab.NothingWrong, Reference: reference(l, p)}
	h.NotToday, h.Untested = notToday(l), untested(l, p)
	for _, id := range l.Technique.Forbid {
		h.Forbidden = append(h.Forbidden, lab.MeterLabel(id))
	}
	known, err := knownReadings(l, p)
	if err != nil {
		return Handout{}, err
	}
	held, large := l.Holders(), map[string]bool{}
	for _, s := range l.Sheets {
		large[s.Code] = s.LargePrint
	}
	for i := range l.Sheets {
		h.Worksheets = append(h.Worksheets, worksheet(l, &l.Sheets[i], held[i], known))
		h.Readings = append(h.Readings, readingsSheet(l, &l.Sheets[i], large[held[i]]))
	}
	return h, nil
}

// reference is the booklet. All but the columns of the worksheet is the same for every lab of the pack and the term,
// whatever its plan allows: it says what all tests of the pack are about.
func reference(l *lab.Lab, p *pack.Pack) Reference {
	whole := lab.Lab{Points: l.Points}
	whole.FrameTests(p, places(len(p.Tests)))
	r := Reference{PackTitle: p.Title, Diagram: drawing(p), Points: slices.Clone(l.Points),
		Columns: slices.Clone(l.Columns),
		Specs:   whole.Specs(p), Repairs: slices.Clone(l.Repairs), Proofs: proofs(l), Never: never(l)}
	for _, f := range p.Vehicle {
		r.Vehicle = append(r.Vehicle, VehicleFact{f.Name, f.Value})
	}
	for _, in := range cards.Instruments {
		used := slices.ContainsFunc(whole.Tests, func(t lab.Test) bool { return t.Instrument == in.ID })
		if used {
			r.Meters = append(r.Meters, MeterNote{in.Label, in.Note})
		}
	}
	r.Sensors = sensors(l)
	return r
}

// sensors writes the tables of a lab's temperature sensors, resistances with three digits: a sensor's tolerance is a
// percent or more.
func sensors(l *lab.Lab) []Sensors {
	var list []Sensors
	for _, t := range l.Sensors {
		var s Sensors
		for _, one := range t.Sensors {
			s.Labels = append(s.Labels, one.Label)
			s.Today = append(s.Today, fmt.Sprintf("%s %.0f °C", one.Measures, one.Celsius))
		}
		for _, row := range t.Rows {
			ohms := fmt.Sprintf("%.0f Ω", row.Ohms)
			switch {
			case row.Ohms >= 10e3:
				ohms = fmt.Sprintf("%.1f kΩ", row.Ohms/1e3)
			case row.Ohms >= 1e3:
				ohms = fmt.Sprintf("%.2f kΩ", row.Ohms/1e3)
			}
			s.Rows = append(s.Rows, SensorRow{fmt.Sprintf("%.0f °C", row.Celsius), ohms,
				fmt.Sprintf("%.2f V", row.Volts)})
		}
		list = append(list, s)
	}
	return list
}

// places are the numbers from 0 to n-1.
func places(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// drawing is the diagram of a pack: its test points, the nodes that have a place, and the parts that are drawn between
// them.
func drawing(p *pack.Pack) Diagram {
	d := Diagram{Unplaced: !slices.ContainsFunc(p.Nodes, func(n pack.Node) bool { return n.HasAt })}
	place := make([]int, len(p.Nodes))
	for i, n := range p.Nodes {
		place[i] = -1
		if !n.HasAt && !d.Unplaced {
			continue
		}
		place[i] = len(d.Nodes)
		node := DiagramNode{ID: n.ID, Label: n.Label, Ground: i == p.Reference, At: n.At, Side: n.LabelSide}
		if i < p.Points {
			node.Number = i + 1
		}
		d.Nodes = append(d.Nodes, node)
	}
	for i := range p.Parts {
		part := &p.Parts[i]
		// A pack may leave inner nodes without a place; what hangs on them cannot be drawn.
		unplaced := slices.ContainsFunc(part.Pins, func(n int) bool { return place[n] < 0 })
		if part.Hidden || unplaced {
			continue
		}
		drawn := DiagramPart{ID: part.ID, Label: part.Label, Kind: part.Kind.Name, Via: part.Via, Box: part.Box,
			LabelAt: part.LabelAt}
		for k, n := range part.Pins {
			drawn.Pins = append(drawn.Pins, place[n])
			drawn.PinNames = append(drawn.PinNames, pinName(part.Kind, k))
		}
		d.Parts = append(d.Parts, drawn)
	}
	return d
}

// pinName names pin k of a kind; further pins of a kind with more are numbered.
func pinName(k *cards.Kind, pin int) string {
	if pin < len(k.Pins) {
		return k.Pins[pin]
	}
	return fmt.Sprint(pin - len(k.Pins) + 2)
}

// worksheet is a student's own two pages. Everything on it hangs on the lab, the person and the complaint.
func worksheet(l *lab.Lab, s *lab.Sheet, holder string, known [][]KnownReading) Worksheet {
	w := Worksheet{Code: s.Code, Holder: holder, Student: s.Student, Name: s.Name, Section: s.Section,
		Large:     s.LargePrint,
		Complaint: l.Complaints[s.Complaint].Label, Mileage: s.Mileage, Vehicle: s.Vehicle, Grid: make([][]Cell,
			len(l.Points))}
	if s.Case < len(known) {
		w.Known = known[s.Case]
	}
	for i := range w.Grid {
		w.Grid[i] = make([]Cell, len(l.Columns))
	}
	table := map[string]int{}
	for i, t := range l.Tests {
		line := s.Lines[i].Number
		if t.Column >= 0 {
			w.Grid[t.Point][t.Column].Line = line
			continue
		}
		at, known := table[t.Group] // tables come in the order of the pack, so their order tells nothing
		if !known {
			at = len(w.Tables)
			table[t.Group] = at
			w.Tables = append(w.Tables, SmallTable{Heading: t.Group})
		}
		w.Tables[at].Rows = append(w.Tables[at].Rows, SmallRow{t.Label, lab.MeterLabel(t.Instrument), t.Condition,
			t.Minutes, line})
	}
	return w
}

// readingsSheet is what the partner holds, by line number, in letters as large as the partner needs.
func readingsSheet(l *lab.Lab, s *lab.Sheet, large bool) ReadingsSheet {
	r := ReadingsSheet{Code: s.Code, Large: large, Plots: plots(s, l)}
	for _, line := range s.Lines {
		r.Lines = append(r.Lines, ReadingLine{line.Number, line.Letters, line.Reading, line.Beside})
	}
	slices.SortFunc(r.Lines, func(a, b ReadingLine) int { return cmp.Compare(a.Number, b.Number) })
	return r
}
