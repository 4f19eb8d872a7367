package gradebook

import (
	"bytes"
	"fmt"
	"strings"
)

// FillTemplate puts marks into one column of a gradebook export and returns
// the new file. data is the CSV file as the other system wrote it; separators
// may be commas, semicolons or tabs, the encoding UTF-8, UTF-16 or Windows-1252.
//
// Only the cells of students with a mark change, and those of students who are
// excused or whose mark was taken back, which are cleared. Everything else stays
// byte for byte: other columns, the line of possible points, quotes, line ends,
// byte order mark. All other students without a mark keep what is there.
//
// A column that is worth other than 100 points gets the mark in its points, with
// a decimal comma where the file has those.
//
// Ids are compared without regard to case, surrounding white space, a protecting
// apostrophe and, where nobody else can be meant, leading zeros. Remarks tell who
// has no line, which line has no student, and what mark is replaced or cleared.
//
// The error is about a file that cannot be read with certainty (damaged, headings
// missing or twice, an id twice), that has no student of the lab, or whose column
// holds other things than marks, or a mark that is not finite; nothing is
// returned then.
func FillTemplate(data []byte, c Columns, marks []Mark) ([]byte, []Remark, error) {
	t, err := readTemplate(data, c)
	if err != nil {
		return nil, nil, err
	}
	worth, err := t.worth(c)
	if err != nil {
		return nil, nil, err
	}
	if err := onlyOnce(marks); err != nil {
		return nil, nil, err
	}
	f := filling{t: t, worth: worth, ids: newMatching(marks, t.ids(t.id)), found: map[string]int{}}
	if worth != 100 {
		f.remark(0, "column %q is worth %s points; a mark of 100 is written as that", t.headings()[t.mark],
			plain(worth))
	}
	if err := f.run(); err != nil {
		return nil, nil, err
	}
	if len(f.students) == 0 && len(marks) > 0 {
		return nil, nil, t.nobody(marks)
	}
	if err := t.checkMarks(f.students, worth); err != nil {
		return nil, nil, err
	}
	f.missing(marks)
	return t.wide.bytes(f.out.Bytes()), f.remarks, nil
}

// filling is an export while it is being filled.
type filling struct {
	t        *template
	worth    float64
	ids      matching
	found    map[string]int // line by the student's id
	students []line         // those that are students of the lab
	bare     int            // of them found without leading zeros
	out      bytes.Buffer
	remarks  []Remark
}

func (f *filling) remark(line int, format string, args ...any) {
	f.remarks = append(f.remarks, Remark{line, fmt.Sprintf(format, args...)})
}

// run copies the file, line by line, with the marks in it.
func (f *filling) run() error {
	t := f.t
	kept := 0 // bytes already copied
	for _, l := range t.lines[1:] {
		id := t.at(l, t.id)
		if id == "" || t.isPoints(l) {
			continue // blank lines and possible points are no students
		}
		m, ok := f.ids.find(id)
		key := idKey(id)
		if ok {
			key = idKey(m.StudentID)
		}
		if first, twice := f.found[key]; twice {
			return fmt.Errorf("line %d: id %q is already in line %d; remove one of them", l.number, id, first)
		}
		f.found[key] = l.number
		if !ok {
			f.remark(l.number, "id %q is not a student of this lab; left as it was", id)
			continue
		}
		if idKey(id) != key {
			f.bare++
		}
		f.students = append(f.students, l)
		text, change, err := f.cell(l, m)
		if err != nil {
			return err
		}
		if change {
			start, end, text := t.place(l, text)
			f.out.Write(t.data[kept:start])
			f.out.WriteString(text)
			kept = end
		}
	}
	f.out.Write(t.data[kept:])
	if f.bare > 0 {
		f.remark(0, "%d ids have lost their leading zeros; all of them were found with them", f.bare)
	}
	return nil
}

// cell is what a student's cell shall say, and whether that is something else than it does.
func (f *filling) cell(l line, m Mark) (text string, change bool, err error) {
	old := f.t.at(l, f.t.mark)
	if strings.Trim(old, "-\u2013") == "" { // how some gradebooks write that there is none
		old = ""
	}
	if text, err = f.t.write(m, f.worth); err != nil {
		return "", false, err
	}
	_, isNumber := number(old)
	isNumber = isNumber || ambiguous(old)
	switch {
	case m.Has:
		if sameNumber(old, text) && old != "" {
			return "", false, nil
		}
		if old != "" {
			f.remark(l.number, "mark of %q was %q, now %s", m.StudentID, old, text)
		}
		return text, true, nil
	case old == "":
		return "", false, nil
	case (m.Absence == Excused || m.Absence == Withdrawn) && isNumber:
		f.remark(l.number, "mark of %q was %q and is cleared: %s; look whether your gradebook takes an empty cell "+
			"for that",
			m.StudentID, old, m.Absence)
		return "", true, nil
	}
	f.remark(l.number, "%q has no mark to transfer; %q is left as it was", m.StudentID, old)
	return "", false, nil
}

// mostMissing is how many students without a line are told one by one. With more the export is most likely that of
// another section, and a line for each would hide what else is told.
const mostMissing = 3

// missing tells who has no line.
func (f *filling) missing(marks []Mark) {
	var list []Mark
	lost := 0 // of them, with a mark
	for _, m := range marks {
		if _, ok := f.found[idKey(m.StudentID)]; ok || m.Absence == Withdrawn {
			continue
		}
		list = append(list, m)
		if m.Has {
			lost++
		}
	}
	if n := len(list); n > mostMissing {
		var first []string
		for _, m := range list[:mostMissing] {
			first = append(first, fmt.Sprintf("%q", m.StudentID))
		}
		f.remark(0, "%d students of the lab have no line in the gradebook, %s and %d more; %d marks are not transferred",
			n, strings.Join(first, ", "), n-mostMissing, lost)
		return
	}
	for _, m := range list {
		what := "; there is no mark to transfer"
		if m.Has {
			what = "; the mark is not transferred"
		}
		f.remark(0, "student %q has no line in the gradebook%s", m.StudentID, what)
	}
}

// onlyOnce refuses two marks for one student: which of them is written would
// depend on their order.
func onlyOnce(marks []Mark) error {
	seen := map[string]bool{}
	for _, m := range marks {
		key := idKey(m.StudentID)
		if seen[key] || key == "" {
			return fmt.Errorf("student %q has two marks or no id", m.StudentID)
		}
		seen[key] = true
	}
	return nil
}
