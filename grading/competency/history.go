package competency

import (
	"nospark/grading"
	"nospark/scenarios/term"
)

// Seen is a sheet that a student has had.
type Seen struct {
	Lab, Date           string
	Pack, Fault, Repair string   // ids of what was hidden
	Right               bool     // the right repair was concluded
	Met                 []string // competencies met, in the order of the table
}

// Seen lists the sheets that a student has worked on, oldest first. A sheet that was not handed in does not count, nor does an excused one.
func (t *Term) Seen(student string) []Seen {
	var list []Seen
	t.worked(func(r *Record, e *Entry) {
		if e.Student != student {
			return
		}
		s := Seen{Lab: r.Lab, Date: r.Date, Pack: r.Pack, Fault: e.Fault, Repair: e.Repair, Right: e.Right}
		for _, x := range e.Evidence {
			if x.Met {
				s.Met = append(s.Met, x.Competency)
			}
		}
		list = append(list, s)
	})
	return list
}

// History is what building a lab may know of the class, in the form that build.Input takes: by student the faults and repairs of
// the labs before a day (2026-10-05) other than the lab itself. Labs of that day or later are left out, so that building a lab once more
// after it was graded finds the same history.
func (t *Term) History(before, lab string) term.History {
	history := term.History{}
	t.worked(func(r *Record, e *Entry) {
		if r.Date < before && r.Lab != lab {
			history[e.Student] = append(history[e.Student], term.Had{Pack: r.Pack, Fault: e.Fault, Repair: e.Repair})
		}
	})
	return history
}

// worked visits the sheets that were worked on, oldest first.
func (t *Term) worked(visit func(*Record, *Entry)) {
	for _, r := range t.Records {
		for i := range r.Students {
			e := &r.Students[i]
			if e.Worked && (e.Status == grading.Graded || e.Status == grading.Provisional) {
				visit(r, e)
			}
		}
	}
}
