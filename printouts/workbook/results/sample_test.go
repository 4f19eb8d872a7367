package results

import (
	"fmt"
	"math/rand"

	"nospark/grading"
	"nospark/grading/bestplay"
	"nospark/scenarios/lab"
)

// sampleResult is an invented grading of a lab: every state that a student or a step can be in, and marks that follow
// from their parts.
func sampleResult(l *lab.Lab) *grading.Result {
	r := &grading.Result{Lab: l.Name, Title: l.Title, Date: l.Date, Reference: 94,
		Spread: bestplay.Spread{Low: 60, High: 100, Mean: 80}}
	random := rand.New(rand.NewSource(7))
	for i, s := range l.Sheets {
		x := grading.StudentResult{Sheet: s.Code, Student: s.Student, Name: s.Name, Section: s.Section, Index: i,
			Status: grading.Graded, Repair: -1,
			Reasoning: -1, Safe: -1, Best: s.Minutes}
		switch {
		case s.Student == "" || i%9 == 5:
			x.Status, x.Why = grading.Blank, "nothing handed in"
		case i%17 == 7:
			x.Status, x.Why = grading.Excused, "ill"
		case i%13 == 11:
			x.Mark, x.Set, x.Why = 71, true, "mark set: worked at the vehicle"
		default:
			sampleWork(l, &x, random)
			sampleMark(l, r.Reference, &x, random)
			if i%13 == 10 {
				x.Mark, x.Set, x.Why = 66, true, "mark set: looked at the worksheet"
			}
			if i%11 == 3 && !x.Set {
				x.Status, x.Why = grading.Provisional, "1 step with line or letters that do not fit"
			}
		}
		r.Students = append(r.Students, x)
	}
	r.Problems = []grading.Problem{
		{Place: "entry.xlsx, F9", What: "'21KQ+' is not a step", Do: "write three digits, two letters and + or -, " +
			"like 214KQ+"},
		{Place: "entry.xlsx, row 10", What: "letters KQ do not fit line 305 of sheet " + l.Sheets[0].Code,
			Do: "=cmd|' /C calc'!A0 is a text, not a formula"},
	}
	if len(l.Sheets) > 1 {
		r.Alike = []grading.Alike{{Sheets: [2]string{l.Sheets[0].Code, l.Sheets[1].Code},
			Why: "the same wrong repair and the same two wrong verdicts, in the same order"}}
	}
	return r
}

// sampleWork invents the steps of a student. They need not be possible in any vehicle: the workbook only shows them.
func sampleWork(l *lab.Lab, x *grading.StudentResult, random *rand.Rand) {
	suspects := 14
	for range 3 + random.Intn(5) {
		t := random.Intn(len(l.Tests))
		line := l.Sheets[x.Index].Lines[t]
		step := grading.Step{Text: fmt.Sprintf("%03d%s+", line.Number, line.Letters), Line: line.Number,
			Letters: line.Letters, State: grading.Counted, Test: t,
			Reading: "12.39 V, battery 12.56 V", Normal: random.Intn(2) == 0, Judged: "+",
			Minutes: l.Tests[t].Minutes, Before: suspects, After: suspects,
			Value: float64(10 * suspects), Better: -1}
		step.Agrees = step.Normal
		if random.Intn(2) == 0 {
			step.Lost = float64(random.Intn(int(step.Minutes) + 1))
			step.Better, step.Split = random.Intn(len(l.Tests)), []int{suspects - 1, 1}
		}
		if step.Told() && suspects > 2 {
			suspects -= 1 + random.Intn(2)
			step.After, step.Cleared = suspects, []int{random.Intn(len(l.Repairs))}
		}
		if !step.Told() {
			step.Remarks = append(step.Remarks, "Every suspect that was left reads the same here, so the answer was "+
				"known beforehand.")
		}
		if !step.Agrees {
			step.Remarks = append(step.Remarks, "Judged +, but 12.39 V, battery 12.56 V is outside the "+
				"specification: at least 12 V")
		}
		switch random.Intn(12) {
		case 0:
			step.State, step.Lost = grading.Unproven, float64(step.Minutes)
		case 1:
			step.State, step.Lost = grading.Repeat, float64(step.Minutes)
		case 2:
			step = grading.Step{Text: "21KQ+", Line: -1, State: grading.NoStep, Test: -1, Better: -1, Before: suspects,
				After: suspects, Value: step.Value}
		}
		x.Minutes += step.Minutes
		x.LostSteps += step.Lost
		x.Steps = append(x.Steps, step)
	}
	x.Path = make([]bestplay.PathStep, 3)
	sampleSuspects(l, x, random)
	x.Practice = []string{"Prove it before you conclude: 3 suspects still stood at the end. Ask which test would " +
		"tell them apart.",
		"Choose the test that rules out most for its minutes; look again at step 2, which lost 1.5 minutes."}[random.Intn(2)]
}

// sampleSuspects invents what the readings ruled out, and e by its definition: of the weight of other repairs and of
// all checks the share that is gone.
func sampleSuspects(l *lab.Lab, x *grading.StudentResult, random *rand.Rand) {
	truth := l.Hypotheses[l.Sheets[x.Index].Truth].Fault
	others, ruledOut := 0, 0
	for i, h := range l.Hypotheses {
		s := grading.Suspect{Row: i, Right: h.Fault == truth, Weight: int64(10 * (i + 1)), Checks: i % 3,
			ChecksWeight: int64(2 * (i + 1) * (i % 3)), Left: h.Fault == truth || random.Intn(3) == 0}
		counts, left := int(s.ChecksWeight), 0
		if s.Left {
			s.LeftChecks = random.Intn(s.Checks + 1)
			s.LeftChecksWeight = int64(2 * (i + 1) * s.LeftChecks)
			left = int(s.LeftChecksWeight)
		}
		if !s.Right {
			counts += int(s.Weight)
			if s.Left {
				left += int(s.Weight)
			}
		}
		others, ruledOut = others+counts, ruledOut+counts-left
		x.Suspects = append(x.Suspects, s)
	}
	x.Evidence = float64(ruledOut) / float64(others)
}

// sampleMark follows the arithmetic of the design: each part from e, lost minutes and the rubric.
func sampleMark(l *lab.Lab, reference int64, x *grading.StudentResult, random *rand.Rand) {
	w := l.Rubric
	truth := l.Faults[l.Hypotheses[l.Sheets[x.Index].Truth].Fault].Repair
	x.Repair, x.Right = truth, true
	if random.Intn(3) == 0 {
		x.Repair = random.Intn(len(l.Repairs))
		x.Right = x.Repair == truth
	}
	x.LostEarly = float64(random.Intn(30))
	if !x.Right {
		x.LostWrong = float64(l.Repairs[x.Repair].Minutes)
	} else {
		x.Parts.Diagnosis = float64(w.Diagnosis)
	}
	x.Lost = x.LostSteps + x.LostEarly + x.LostWrong
	x.Reference = reference
	x.Parts.Evidence = float64(w.Evidence) * x.Evidence
	x.Parts.Efficiency = float64(w.Efficiency) * x.Evidence * float64(reference) / (float64(reference) + 2*x.Lost)
	x.Parts.Interpretation = float64(w.Interpretation) * float64(random.Intn(4)) / 3
	x.Mark = x.Parts.Evidence + x.Parts.Diagnosis + x.Parts.Efficiency + x.Parts.Interpretation
	open := 0
	if w.Reasoning > 0 {
		if x.Reasoning = random.Intn(6) - 1; x.Reasoning < 0 {
			open += w.Reasoning
		} else {
			x.Parts.Reasoning = float64(w.Reasoning) * float64(x.Reasoning) / 4
		}
	}
	if w.Safety > 0 {
		x.Safe = random.Intn(2)
		x.Parts.Safety = float64(w.Safety * x.Safe)
	}
	x.Mark = (x.Mark + x.Parts.Reasoning + x.Parts.Safety) * 100 / float64(100-open)
}
