package competency

import (
	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// History is what building a lab may know of the class, in the form that build.Input takes: by student the faults
// and repairs of the labs before a day (2026-10-05) other than the lab itself; another term may have had one of its
// name. Labs of that day or later are left out, so that building a lab once more after it was graded finds the same
// history.
func (t *Term) History(before, lab string) term.History {
	history := term.History{}
	t.Worked(func(r *evidence.Record, e *evidence.Entry) {
		if r.Date < before && (r.Lab != lab || r.Term != t.Term.ID) {
			history[e.Student] = append(history[e.Student], term.Had{Pack: r.Pack, Fault: e.Fault,
				Repair: e.Repair})
		}
	})
	return history
}
