package debrief

import "nospark/grading"

// Nothing tells whether there is no mark. The page then does not give the fault away, so that the sheet can still
// be worked.
func (d Debrief) Nothing() bool {
	return !d.Student.Status.HasMark()
}

// NothingWords are what a student without a mark reads; the last paragraph is to think about. It says nothing of
// the fault: the sheet may still be worked.
func (d Debrief) NothingWords() []string {
	complaint := "**The complaint, to think about until then:** " +
		d.Lab.Complaints[d.Lab.Sheets[d.Student.Index].Complaint].Label +
		" Which parts can cause it, and which one test would rule out about half of them?"
	if d.Student.Status == grading.Excused {
		paragraphs := []string{"You are excused from this lab, so no mark counts."}
		if d.Student.Why != "" {
			paragraphs = append(paragraphs, "Your instructor’s note: "+d.Student.Why)
		}
		return append(paragraphs,
			"If you would like the practice all the same, ask for your sheet and a partner: the hidden fault is "+
				"still yours to find.", complaint)
	}
	if d.Student.Status == grading.Incomplete {
		return []string{
			"Something from your sheet was handed in, but there is no mark for it yet. That is not a zero; it is an " +
				"empty place.",
			"Why: " + d.Student.Why + ".",
			"Ask your instructor what is missing and whether you may finish. Your fault is still hidden; this page " +
				"does not give it away.",
			complaint,
		}
	}
	return []string{
		"There was nothing from your sheet among what was handed in, so you have no mark for this lab. That is " +
			"not a zero; it is an empty place.",
		"If you did hand it in, tell your instructor: a code may have been mistyped.",
		"If you were absent, ask whether you may work your sheet now, or a spare one. Your fault is still " +
			"hidden; this page does not give it away.",
		"If you got stuck, bring the sheet. The first two tests are the hardest to choose, and choosing is what " +
			"the next lab practices too.",
		complaint,
	}
}
