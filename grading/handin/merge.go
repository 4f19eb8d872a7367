package handin

import (
	"fmt"
	"slices"

	"nospark/grading/submission"
)

// merge decides what counts when several rows speak of one student: a row with nothing in it never matters, and
// rows that say the same are one. Of rows that differ none counts until the instructor has chosen.
func (m *matcher) merge(all []Entry) Entry {
	if at := slices.IndexFunc(all, func(h Entry) bool { return h.Row.Bench }); at >= 0 {
		return m.withPaper(all[at], slices.Delete(slices.Clone(all), at, at+1))
	}
	kept := m.mergePaper(all)
	if kept.Row.From > 0 && !kept.Row.Empty() {
		m.problem(kept.Row.Place, "enter all steps", "the row of student %s goes on from step %d, but the bench "+
			"recorded nothing",
			kept.Student, kept.Row.From)
		kept.Doubts = append(kept.Doubts, fmt.Sprintf("the steps before step %d are missing", kept.Row.From))
	}
	return kept
}

// mergePaper is merge for rows that people keyed in.
func (m *matcher) mergePaper(all []Entry) Entry {
	chosen, hasChosen := RulingOn(m.rows.choose, all[0].Work)
	kept := all[0]
	var others []string
	for _, h := range all[1:] {
		switch {
		case h.Row.Empty():
		case kept.Row.Empty():
			h, kept = kept, h
		case kept.Sheet == h.Sheet && same(kept.Row, h.Row):
		case hasChosen && kept.Row.Place == chosen:
			continue
		case hasChosen && h.Row.Place == chosen:
			kept = h
			continue
		default:
			others = append(others, h.Row.Place)
			continue
		}
		kept.Row.Reasoning = m.either(kept.Row, h.Row, "reasoning", kept.Row.Reasoning, h.Row.Reasoning)
		kept.Row.Safe = m.either(kept.Row, h.Row, "safe working", kept.Row.Safe, h.Row.Safe)
		for _, doubt := range h.Doubts {
			if !h.Row.Empty() && !slices.Contains(kept.Doubts, doubt) {
				kept.Doubts = append(kept.Doubts, doubt)
			}
		}
	}
	if len(others) > 0 && !(hasChosen && kept.Row.Place == chosen) {
		kept.Undecided = "different rows in " + fewNames(append([]string{kept.Row.Place}, others...))
		m.problem(others[0], fmt.Sprintf("delete all but one, or write [[choose]] student = %q, row = %q%s into "+
			"adjust.toml",
			kept.Student, kept.Row.Place, m.naming(kept.Sheet)), "student %s has %s; none of them counts yet",
			kept.Student, kept.Undecided)
	}
	return kept
}

// naming is what an entry of adjust.toml about a student must say too where the students have several sheets.
func (m *matcher) naming(sheet int) string {
	if m.lab.Vehicles < 2 {
		return ""
	}
	return fmt.Sprintf(", sheet = %q", m.lab.Sheets[sheet].Code)
}

// same tells whether two rows say the same about the diagnosis.
func same(a, b submission.Row) bool {
	return a.Repair == b.Repair && a.From == b.From && slices.EqualFunc(a.Steps, b.Steps, func(x, y submission.Step) bool {
		return x.Line == y.Line && x.Letters == y.Letters && x.Judged == y.Judged && (x.Line >= 0 || x.Text == y.Text)
	})
}

// either takes the value of the instructor's column that is filled in.
func (m *matcher) either(kept, other submission.Row, what string, a, b int) int {
	if a >= 0 && b >= 0 && a != b {
		m.problem(other.Place, "delete one of the two", "%s differs from that in %s, which counts", what, kept.Place)
	}
	if a < 0 {
		return b
	}
	return a
}
