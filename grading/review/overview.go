package review

import (
	"cmp"
	"slices"

	"nospark/grading"
	"nospark/scenarios/lab"
)

// Overview is a class after a lab, for the instructor who plans the next one. It counts students with a mark,
// provisional ones too; where they have several vehicles, what is not about marks counts each sheet that was worked.
// Minutes are tenths.
type Overview struct {
	Graded, Provisional, Incomplete, Blank, Excused int

	Marks     []float64 // ascending
	Mean      float64   // of the marks; 0 without any
	Median    float64
	LostSteps float64 // mean over the sheets
	LostEarly float64
	LostWrong float64
	Faults    []OverviewFault  // in the order of the lab
	Idle      []OverviewTest   // tests that told nothing, by the minutes they cost
	Missed    []OverviewTest   // the better tests that were not made, by the minutes lost
	Misjudged []OverviewTest   // wrong and missing verdicts, most first
	Wrong     []OverviewRepair // wrong conclusions, most first
}

// OverviewFault is how the students with one hidden fault did.
type OverviewFault struct {
	Fault    int
	Students int
	Right    int
	Mark     float64 // mean
	Minutes  float64 // mean of what was spent
	Best     float64 // mean of best play
}

// OverviewTest is a test and how often something happened with it.
type OverviewTest struct {
	Test  int
	Times int
	Of    int     // readings of the test, for verdicts
	Lost  float64 // minutes, for the others
}

// OverviewRepair is a repair that was concluded though it was wrong.
type OverviewRepair struct{ Repair, Students int }

// testSums are what is counted of a test.
type testSums struct{ idle, missed, judged OverviewTest }

// NewOverview sums up a result.
func NewOverview(lab *lab.Lab, r *grading.Result) *Overview {
	o := &Overview{}
	faults := make([]OverviewFault, len(lab.Faults))
	tests := make([]testSums, len(lab.Tests))
	wrong := make([]int, len(lab.Repairs))
	o.count(r.Marks)
	sheets := 0.0
	for _, s := range r.Students {
		if !s.Status.HasMark() {
			continue
		}
		sheets++
		o.LostSteps += s.LostSteps
		o.LostEarly += s.LostEarly
		o.LostWrong += s.LostWrong
		faults[lab.Hypotheses[lab.Sheets[s.Index].Truth].Fault].add(&s)
		if !s.Right && s.Repair >= 0 {
			wrong[s.Repair]++
		}
		for _, step := range s.Steps {
			if step.Test >= 0 && (step.State == grading.Counted || step.State == grading.Repeat) {
				addStep(tests, step)
			}
		}
	}
	for _, sum := range []*float64{&o.LostSteps, &o.LostEarly, &o.LostWrong} {
		*sum /= max(1, sheets)
	}
	for i, f := range faults {
		if n := float64(f.Students); n > 0 {
			o.Faults = append(o.Faults, OverviewFault{i, f.Students, f.Right, f.Mark / n, f.Minutes / n, f.Best / n})
		}
	}
	o.listTests(tests)
	for repair, n := range wrong {
		if n > 0 {
			o.Wrong = append(o.Wrong, OverviewRepair{repair, n})
		}
	}
	slices.SortStableFunc(o.Wrong, func(a, b OverviewRepair) int { return -cmp.Compare(a.Students, b.Students) })
	return o
}

// add counts a student with the fault; the means are sums until all are counted.
func (f *OverviewFault) add(s *grading.StudentResult) {
	f.Students++
	f.Mark += s.Mark
	f.Minutes += float64(s.Minutes)
	f.Best += float64(s.Best)
	if s.Right {
		f.Right++
	}
}

// addStep counts a step with its test and with the better one.
func addStep(tests []testSums, step grading.Step) {
	t := &tests[step.Test]
	if !step.Told() {
		t.idle.Times++
		t.idle.Lost += step.Lost
	}
	if step.Better >= 0 {
		tests[step.Better].missed.Times++
		tests[step.Better].missed.Lost += step.Lost
	}
	if !step.Silent {
		t.judged.Of++
		if !step.Agrees {
			t.judged.Times++
		}
	}
}

// listTests lists the tests with which something happened, the worst first.
func (o *Overview) listTests(tests []testSums) {
	for i, t := range tests {
		t.idle.Test, t.missed.Test, t.judged.Test = i, i, i
		o.Idle, o.Missed = happened(o.Idle, t.idle), happened(o.Missed, t.missed)
		o.Misjudged = happened(o.Misjudged, t.judged)
	}
	costliest := func(a, b OverviewTest) int { return -cmp.Compare(a.Lost, b.Lost) }
	slices.SortStableFunc(o.Idle, costliest)
	slices.SortStableFunc(o.Missed, costliest)
	slices.SortStableFunc(o.Misjudged, func(a, b OverviewTest) int { return -cmp.Compare(a.Times, b.Times) })
}

// happened appends what happened at least once.
func happened(list []OverviewTest, t OverviewTest) []OverviewTest {
	if t.Times == 0 {
		return list
	}
	return append(list, t)
}

// count sums up the marks.
func (o *Overview) count(marks []grading.StudentMark) {
	of := map[grading.Status]*int{
		grading.Graded: &o.Graded, grading.Provisional: &o.Provisional, grading.Blank: &o.Blank,
		grading.Excused: &o.Excused, grading.Incomplete: &o.Incomplete,
	}
	for _, m := range marks {
		*of[m.Status]++
		if m.Status.HasMark() {
			o.Marks = append(o.Marks, m.Mark)
			o.Mean += m.Mark
		}
	}
	slices.Sort(o.Marks)
	if n := len(o.Marks); n > 0 {
		o.Mean /= float64(n)
		o.Median = (o.Marks[(n-1)/2] + o.Marks[n/2]) / 2
	}
}
