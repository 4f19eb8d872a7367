package printouts

import (
	"fmt"
	"math"

	"nospark/grading"
	"nospark/printouts/page"
	"nospark/scenarios"
)

// Overview prints the class after a lab, for the instructor alone: marks, faults, where the minutes went, which tests were missed and
// misjudged, and what to look at before the marks are final. It names sheets, no students.
func Overview(lab *scenarios.Lab, result *grading.Result) ([]byte, error) {
	doc, err := newDocument(scenarios.Handout{Program: lab.Program, Title: lab.Title, Date: lab.Date, Paper: lab.Paper}, "class overview")
	if err != nil {
		return nil, err
	}
	f := doc.Section(page.Frame{Name: "Class overview", Left: joined(", ", lab.Program, lab.Title, lab.Date), Right: "Class overview: for the instructor",
		Foot: "Class overview of lab " + lab.Name, Size: 9.5, Side: 15})
	v := classView{f, lab, result, grading.NewOverview(lab, result)}
	f.Title("Class overview: "+lab.Title, v.counts())
	v.marks()
	v.faults()
	v.minutes()
	v.tests("Tests that were missed", "At some step this test was the best, and another was made instead.", "times", v.o.Missed)
	v.tests("Tests that told nothing", "Made although no reading could have changed what was left to test.", "times", v.o.Idle)
	v.misjudged()
	v.wrong()
	v.look()
	f.CautionsShort()
	return doc.Bytes()
}

// classView is an overview being printed.
type classView struct {
	flow   *page.Flow
	lab    *scenarios.Lab
	result *grading.Result
	o      *grading.Overview
}

// mostRows of a table keep the overview to what is worth a word in class.
const mostRows = 5

// counts tells how much there was to sum up.
func (v classView) counts() string {
	o := v.o
	text := counted(o.Graded, "mark", "marks")
	if o.Provisional > 0 {
		text += fmt.Sprintf(", %d provisional", o.Provisional)
	}
	if o.Incomplete > 0 {
		text += fmt.Sprintf(", %d incomplete", o.Incomplete)
	}
	if o.Blank > 0 {
		text += ", " + counted(o.Blank, "sheet", "sheets") + " not handed in"
	}
	if o.Excused > 0 {
		text += fmt.Sprintf(", %d excused", o.Excused)
	}
	return text
}

// marks draws a dot for each mark.
func (v classView) marks() {
	if len(v.o.Marks) == 0 {
		v.flow.Para("Nothing was handed in yet.")
		return
	}
	v.flow.Heading("Marks")
	v.flow.Para(fmt.Sprintf("Mean **%s**, median **%s**, from %s to %s. Each dot is a mark, in steps of 5; provisional ones are among them.", points(v.o.Mean), points(v.o.Median),
		points(v.o.Marks[0]), points(v.o.Marks[len(v.o.Marks)-1])))
	const steps = 20
	var heaps [steps]int
	place := func(mark float64) int { return min(steps-1, max(0, int(mark/5))) }
	tallest := 0
	for _, m := range v.o.Marks {
		heaps[place(m)]++
		tallest = max(tallest, heaps[place(m)])
	}
	rise := math.Min(3.2, 40/float64(tallest))
	v.flow.Draw(float64(tallest)*rise+9, func(c page.Canvas) {
		y := c.H - 6
		left, wide := 4.0, c.W-8
		c.Line(left, y, left+wide, y, page.Stroke(0.3))
		for i := 0; i <= steps; i += 2 {
			x := left + wide*float64(i)/steps
			c.Line(x, y, x, y+1.2, page.Stroke(0.3))
			c.Text(x, y+2, fmt.Sprint(i*5), page.Style{Size: 8, Condensed: true, Align: page.Centre, Level: page.Top})
		}
		for i, n := range heaps {
			for k := range n {
				c.Circle(left+wide*(float64(i)+0.5)/steps, y-rise*(float64(k)+0.6), min(rise, 3.2)*0.42, page.Pen{Line: page.Black, Width: 0.2, Fill: page.Blue})
			}
		}
	})
}

// faults compares the hidden faults: one with few right answers deserves a word in class.
func (v classView) faults() {
	if len(v.o.Faults) == 0 {
		return
	}
	t := page.Table{Zebra: true, Columns: []page.Column{{Head: "hidden fault"}, {Head: "students", Width: page.Natural, Align: page.Right},
		{Head: "right", Width: page.Natural, Align: page.Right}, {Head: "mean mark", Width: page.Natural, Align: page.Right},
		{Head: "min spent", Width: page.Natural, Align: page.Right}, {Head: "best play", Width: page.Natural, Align: page.Right}}}
	for _, f := range v.o.Faults {
		t.Row(v.lab.Faults[f.Fault].Label, fmt.Sprint(f.Students), fmt.Sprint(f.Right), points(f.Mark), points(f.Minutes/10), points(f.Best/10))
	}
	v.flow.Heading("Faults")
	v.flow.Table(t)
}

// minutes shows what cost most: choosing, concluding early, or concluding wrongly.
func (v classView) minutes() {
	o := v.o
	total := o.LostSteps + o.LostEarly + o.LostWrong
	if total == 0 {
		return
	}
	bar := func(label string, x float64) page.Bar {
		return page.Bar{Label: label, Value: x, Of: total, Note: fmt.Sprintf("%s min, %.0f %%", short(x/10, 1), 100*x/total)}
	}
	v.flow.Together(func() {
		v.flow.Heading("Where minutes were lost")
		v.flow.Para(fmt.Sprintf("On average %s minutes a student, beside a reference of %s.", short(total/10, 1), minutes(v.result.Reference)))
		v.flow.Bars(bar("in steps that were not best", o.LostSteps), bar("still needed when concluding", o.LostEarly), bar("for wrong repairs", o.LostWrong))
	})
}

// tests lists tests with what they cost the class, the dearest first.
func (v classView) tests(heading, about, times string, list []grading.OverviewTest) {
	if len(list) == 0 {
		return
	}
	t := page.Table{Zebra: true, Columns: []page.Column{{Head: "test"}, {Head: times, Width: page.Natural, Align: page.Right}, {Head: "min lost", Width: page.Natural, Align: page.Right}}}
	for _, x := range list[:min(mostRows, len(list))] {
		t.Row(grading.TestName(v.lab, x.Test), fmt.Sprint(x.Times), short(x.Lost/10, 1))
	}
	v.flow.Together(func() {
		v.flow.Heading(heading)
		v.flow.Para(about)
		v.flow.Table(t)
	})
}

// misjudged lists readings with what a good one would have been.
func (v classView) misjudged() {
	list := v.o.Misjudged
	if len(list) == 0 {
		return
	}
	t := page.Table{Zebra: true, Columns: []page.Column{{Head: "test"}, {Head: "a good reading", Share: 0.6}, {Head: "wrong or missing", Width: page.Natural, Align: page.Right}}}
	for _, x := range list[:min(mostRows, len(list))] {
		t.Row(grading.TestName(v.lab, x.Test), v.lab.Tests[x.Test].Spec, fmt.Sprintf("%d of %d", x.Times, x.Of))
	}
	v.flow.Together(func() {
		v.flow.Heading("Readings that were misjudged")
		v.flow.Table(t)
	})
}

// wrong lists the wrong repairs, which tell what the class takes for what.
func (v classView) wrong() {
	if len(v.o.Wrong) == 0 {
		return
	}
	t := page.Table{Zebra: true, Columns: []page.Column{{Head: "repair"}, {Head: "students", Width: page.Natural, Align: page.Right}}}
	for _, w := range v.o.Wrong[:min(mostRows, len(v.o.Wrong))] {
		t.Row(repairName(v.lab, w.Repair), fmt.Sprint(w.Students))
	}
	v.flow.Together(func() {
		v.flow.Heading("Wrong conclusions")
		v.flow.Table(t)
	})
}

// look lists what a person should look at.
func (v classView) look() {
	var items []string
	for _, s := range v.result.Students {
		if s.Status == grading.Provisional {
			items = append(items, "Sheet **"+s.Sheet+"** is provisional: "+s.Why+".")
		}
	}
	for _, a := range v.result.Alike {
		items = append(items, "Sheets **"+a.Sheets[0]+"** and **"+a.Sheets[1]+"**: "+a.Why+".")
	}
	if n := len(v.result.Problems); n > 0 {
		items = append(items, counted(n, "remark", "remarks")+" on what was handed in: see problems.csv.")
	}
	if len(items) == 0 {
		return
	}
	v.flow.Heading("To look at before the marks are final")
	v.flow.Bullets(items...)
}
