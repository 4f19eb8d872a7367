package practice

import (
	"fmt"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/attempt"
	"nospark/grading/submission"
	"nospark/printouts/content"
	"nospark/printouts/debrief"
	"nospark/scenarios/lab"
)

// self is the only student of a practice lab.
const self = "practice"

// Row is an attempt as it would be handed in on paper.
func Row(l *lab.Lab, a attempt.Attempt) submission.Row {
	row := submission.Row{Place: "practice", Student: self, Sheet: l.Sheets[0].Code, Repair: a.Conclusion.Repair,
		Reasoning: -1, Safe: -1}
	for _, s := range a.Counting() {
		for t := range l.Tests {
			if l.Tests[t].ID != s.Test {
				continue
			}
			line := l.Sheets[0].Lines[t]
			step := submission.Step{Place: fmt.Sprintf("step %d", s.Number), Line: line.Number, Letters: line.Letters,
				Judged: judged(s.Good)}
			step.Text = fmt.Sprintf("%03d%s%s", step.Line, step.Letters, step.Judged)
			row.Steps = append(row.Steps, step)
		}
	}
	return row
}

// judged is a verdict as it is written on paper.
func judged(v attempt.Verdict) string {
	return map[attempt.Verdict]string{attempt.Good: "+", attempt.Bad: "-"}[v]
}

// grade gives the debrief of an attempt as it stands.
func grade(m *grading.Memory, l *lab.Lab, a attempt.Attempt) (debrief.Debrief, error) {
	result, err := m.Grade(l, []submission.Row{Row(l, a)}, adjust.Decisions{})
	if err != nil {
		return debrief.Debrief{}, err
	}
	return debrief.New(l, result.Reference, result.Students[0]), nil
}

// said is the feedback on the last step: its verdict, what it ruled out and why, what would have told more. It is nil
// before the verdict, which it would give away.
func said(m *grading.Memory, l *lab.Lab, a attempt.Attempt) ([]content.Block, error) {
	if len(a.Steps) == 0 || a.Conclusion.Made() {
		return nil, nil
	}
	d, err := grade(m, l, a)
	if err != nil {
		return nil, err
	}
	at := len(d.Student.Steps) - 1
	step := d.Student.Steps[at]
	if !step.Silent && a.Steps[len(a.Steps)-1].Good == attempt.Unsaid {
		return nil, nil
	}
	var blocks []content.Block
	say := func(text string) {
		if text != "" {
			blocks = append(blocks, content.Paragraph{Text: text})
		}
	}
	say(verdictWords(l, step))
	say(d.RemarkOn(at))
	left := d.Student.Left
	repairs := map[int]bool{}
	for _, h := range left {
		repairs[l.Faults[l.Hypotheses[h].Fault].Repair] = true
	}
	switch {
	case d.Student.Missing == 0:
		say("Nothing is left to test: the repair is proven. Conclude.")
	case len(repairs) == 1:
		say("One repair is left, but it is not proven yet: its own checks are owed.")
	default:
		say(fmt.Sprintf("%d repairs are left.", len(repairs)))
	}
	return blocks, nil
}

// verdictWords say whether the verdict fits the reading, and what a good reading is.
func verdictWords(l *lab.Lab, s grading.Step) string {
	is := "**not good**"
	if s.Normal {
		is = "**good**"
	}
	spec := ""
	if text := l.Tests[s.Test].Spec; text != "" {
		spec = " A good reading is: " + text + "."
	}
	switch {
	case s.Silent:
		return "This reading asks for no verdict."
	case s.Judged == "":
		return "The reading is " + is + "." + spec
	case s.Agrees:
		return "Your verdict is right: the reading is " + is + "."
	}
	return "Your verdict is **wrong**: the reading is " + is + "." // the remark that follows has the specification
}
