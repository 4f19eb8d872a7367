package grading

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"nospark/grading/letters"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// conclude reads the repair and decides whether it is right.
func (d *diagnosis) conclude() {
	d.r.Repair = d.repair(d.h.Row.Repair)
	if d.r.Repair < 0 {
		return
	}
	d.r.Right = slices.Contains(d.s.Repairs(d.same), d.r.Repair)
	if accept := d.rule.Accepted(d.r.Repair, d.h.Work); accept != nil {
		if !d.r.Right {
			d.raisedBy = accept
		}
		d.r.Right, d.r.Why = true, "repair accepted: "+accept.Reason
	}
}

// repair finds the repair of a code such as 12HM. Letters that do not fit the code, or are missing, make the mark
// provisional; where they contradict it, the code alone is not trusted and the conclusion does not count until it is
// corrected.
func (d *diagnosis) repair(written string) int {
	if written == "" {
		return -1
	}
	digits := written[:len(written)-len(strings.TrimLeft(written, "0123456789"))]
	letters := written[len(digits):]
	at := -1
	for i, r := range d.lab.Repairs {
		if strings.TrimLeft(r.Code, "0") == strings.TrimLeft(digits, "0") && digits != "" {
			at = i
		}
	}
	switch {
	case at >= 0 && letters == d.lab.Repairs[at].Letters:
		return at
	case at >= 0 && letters == "":
		d.doubts = append(d.doubts, fmt.Sprintf("repair %s has no check letters", written))
		d.problem(d.repairAt(),
			d.unlessConfirmed("look at the worksheet; then complete the code in the entry form or [[confirm]] the "+
				"mark in adjust.toml"),
			"repair %s of student %s has no check letters; it was taken for '%s'", written, d.h.Student, d.lab.Repairs[at].Label)
		return at
	}
	d.doubts = append(d.doubts, fmt.Sprintf("repair %q does not exist", written))
	d.problem(d.repairAt(), d.unlessConfirmed(d.meantRepair(written, letters)),
		"repair %q of student %s does not exist, so the conclusion does not count yet",
		written, d.h.Student)
	return -1
}

// repairAt is where the repair was written.
func (d *diagnosis) repairAt() string { return cmp.Or(d.h.Row.RepairAt, d.h.Row.Place) }

// meantRepair words what to do about the code of a repair that does not exist; two are its letters.
func (d *diagnosis) meantRepair(written, two string) string {
	const look = "look at the worksheet and correct the code in the entry form"
	if step, err := submission.ParseStep(written); err == nil && step.Judged != "" {
		return "this is a step: compare the columns with their heading"
	}
	var slips, same []lab.Repair
	for _, r := range d.lab.Repairs {
		if letters.OneSlip(r.Code+r.Letters, written) {
			slips = append(slips, r)
		}
		if r.Letters == two {
			same = append(same, r)
		}
	}
	switch {
	case len(slips) == 1:
		return fmt.Sprintf("perhaps %s%s was meant ('%s'); %s", slips[0].Code, slips[0].Letters, slips[0].Label, look)
	case len(same) == 1:
		return fmt.Sprintf("%s are the letters of repair %s ('%s'); %s", two, same[0].Code, same[0].Label, look)
	case submission.NoCheckLetters(two):
		return submission.NeverLetters + "; " + look
	}
	return look
}
