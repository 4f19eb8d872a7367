package build

import (
	"fmt"

	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
)

// sheet writes a drawn vehicle on a person's sheet. The code comes later: it has to differ from those of all others.
func (m *maker) sheet(j job, minutes func(way) int64) lab.Sheet {
	streams := sheetStreams(m.in.Key, m.lab.Name, j.who, j.vehicle)
	s := lab.Sheet{Student: j.who.id, Name: j.who.name, Family: j.who.family, Section: j.who.section,
		LargePrint: j.who.large,
		Complaint:  m.lab.Cases[j.begin].Complaint, Case: j.begin, Mileage: mileage(streams), Vehicle: j.vehicle,
		Truth:    j.row,
		Severity: j.drawn.severity, Minutes: minutes(way{j.begin, j.row}), Lines: make([]lab.Line,
			len(j.drawn.readings)), Traces: j.drawn.traces}
	if j.who.spare {
		s.Student = ""
	}
	// Number and letters hang on lab and person alone. They may not hang on the fault: a classmate could learn from
	// them.
	numbers := shuffled(100, lab.MaxLines, streams("lines"))
	letters := streams("letters")
	for i, r := range j.drawn.readings {
		s.Lines[i] = lab.Line{Number: numbers[i], Letters: letters.Letters(2), Reading: r.text, Beside: r.beside,
			Band: r.band}
	}
	return s
}

// code draws the code of a sheet, K7-PTX: random, so that it neither tells who has it nor where it comes in a list. No
// digit looks like a letter.
func (m *maker) code(j job, taken map[string]bool) string {
	s := sheetStreams(m.in.Key, m.lab.Name, j.who, j.vehicle)("code")
	for {
		code := fmt.Sprintf("%s%d-%s", s.Letters(1), 2+s.Intn(8), s.Letters(3))
		if !taken[code] {
			taken[code] = true
			return code
		}
	}
}

// packStreams name random streams that depend on a pack alone.
func packStreams(pack string, row ...string) streams {
	return func(purpose ...string) *draw.Stream {
		return draw.New([]byte("rows that can be built"), append(append([]string{pack}, row...), purpose...)...)
	}
}

// maker makes a lab's new sheets.
type maker struct {
	lab    *lab.Lab
	in     *Input
	drawer *drawer
	hide   []bool   // by fault of the lab: may be hidden
	people []person // everybody who shall have sheets, also those who have them
	old    [][]int  // of each person the sheets there are already
}

// way is what best play to a row of a case takes.
type way struct{ begin, row int }
