package instructor

import (
	"fmt"
	"strings"

	"nospark/grading"
	"nospark/grading/review"
	"nospark/printouts/content"
	"nospark/printouts/wording"
	"nospark/scenarios/lab"
)

// Overview is the class after a lab: marks, faults, where the minutes went, which tests were missed and misjudged,
// and what to look at before the marks are final. It names sheets, no students.
func Overview(lab *lab.Lab, result *grading.Result) content.Document {
	v := classView{lab, result, review.NewOverview(lab, result)}
	blocks := []content.Block{content.Title{Text: "Class overview: " + lab.Title, Below: v.counts()}}
	for _, part := range [][]content.Block{
		v.marks(),
		v.faults(),
		v.minutes(),
		v.tests("Tests that were missed", "At some step this test was the best, and another was made instead.",
			v.o.Missed),
		v.tests("Tests that told nothing", "Made although no reading could have changed what was left to test.",
			v.o.Idle),
		v.misjudged(),
		v.wrong(),
		v.look(),
		{content.Cautions{Lacks: lab.Lacks}},
	} {
		blocks = append(blocks, part...)
	}
	return document(lab, "class overview", content.Section{
		Name: "Class overview", Left: wording.Join(", ", lab.Program, lab.Title, lab.Date),
		Right: "Class overview: for the instructor",
		Foot:  "Class overview of lab " + lab.Name, Size: 9.5, Side: 15, Blocks: blocks,
	})
}

// classView is an overview being written. Each of its parts is left out where there is nothing to say.
type classView struct {
	lab    *lab.Lab
	result *grading.Result
	o      *review.Overview
}

// mostRows of a table keep the overview to what is worth a word in class.
const mostRows = 5

// counts tells how much there was to sum up.
func (v classView) counts() string {
	o := v.o
	text := wording.Count(o.Graded, "mark", "marks")
	if o.Provisional > 0 {
		text += fmt.Sprintf(", %d provisional", o.Provisional)
	}
	if o.Incomplete > 0 {
		text += fmt.Sprintf(", %d incomplete", o.Incomplete)
	}
	if o.Blank > 0 {
		text += ", " + wording.Count(o.Blank, "sheet", "sheets") + " not handed in"
	}
	if o.Excused > 0 {
		text += fmt.Sprintf(", %d excused", o.Excused)
	}
	return text
}

// marks shows a dot for each mark.
func (v classView) marks() []content.Block {
	marks := v.o.Marks
	if len(marks) == 0 {
		return []content.Block{content.Paragraph{Text: "Nothing was handed in yet."}}
	}
	const step = 5 // marks of a heap
	d := content.Dots{From: 0, To: 100, Tick: 10, Highest: 40}
	var words []string
	heaps := map[int]int{} // looked up only, never walked
	for _, m := range marks {
		heap := min(100-step, max(0, int(m)/step*step))
		heaps[heap]++
		d.Values = append(d.Values, float64(heap)+step/2.0)
	}
	for from := 0; from < 100; from += step {
		if n := heaps[from]; n > 0 {
			words = append(words, fmt.Sprintf("%s from %d to %d", wording.Count(n, "mark", "marks"), from, from+step))
		}
	}
	return []content.Block{
		content.Heading{Level: 2, Text: "Marks"},
		content.Paragraph{Text: fmt.Sprintf("Mean **%s**, median **%s**, from %s to %s. Each dot is a mark, in "+
			"steps of 5; provisional ones are among them.", wording.Points(v.o.Mean), wording.Points(v.o.Median),
			wording.Points(marks[0]),
			wording.Points(marks[len(marks)-1]))},
		content.Figure{Picture: d, Words: []string{strings.Join(words, "; ")}},
	}
}

// faults compares the hidden faults: one with few right answers deserves a word in class.
func (v classView) faults() []content.Block {
	if len(v.o.Faults) == 0 {
		return nil
	}
	t := table("hidden fault", "students", "right", "mean mark", "min spent", "best play")
	for _, f := range v.o.Faults {
		t.Row(v.lab.Faults[f.Fault].Label, fmt.Sprint(f.Students), fmt.Sprint(f.Right), wording.Points(f.Mark),
			wording.Points(f.Minutes/10),
			wording.Points(f.Best/10))
	}
	return []content.Block{content.Heading{Level: 2, Text: "Faults"}, t}
}

// table has names in its first column and numbers in the others.
func table(name string, numbers ...string) content.Table {
	t := content.Table{Paper: content.PaperTable{Zebra: true}, Columns: []content.Column{{Head: name, Header: true}}}
	for _, head := range numbers {
		t.Columns = append(t.Columns, content.Column{Head: head, Width: content.Natural, Align: content.Right})
	}
	return t
}

// minutes shows what cost most: choosing, concluding early, or concluding wrongly.
func (v classView) minutes() []content.Block {
	o := v.o
	total := o.LostSteps + o.LostEarly + o.LostWrong
	if total == 0 {
		return nil
	}
	bar := func(label string, x float64) content.Bar {
		return content.Bar{Label: label, Value: x, Of: total,
			Note: fmt.Sprintf("%s min, %.0f %%", wording.Short(x/10, 1), 100*x/total)}
	}
	bars := content.Bars{List: []content.Bar{
		bar("in steps that were not best", o.LostSteps), bar("still needed when concluding", o.LostEarly),
		bar("for wrong repairs", o.LostWrong),
	}}
	return together("Where minutes were lost",
		content.Paragraph{Text: fmt.Sprintf("On average %s minutes a student, beside a reference of %s.",
			wording.Short(total/10, 1),
			wording.Minutes(v.result.Reference))},
		content.Figure{Picture: bars, Words: bars.Words()})
}

// together is a part that stays on one page.
func together(heading string, blocks ...content.Block) []content.Block {
	return []content.Block{content.Together{Blocks: append([]content.Block{content.Heading{Level: 2,
		Text: heading}}, blocks...)}}
}

// tests lists tests with what they cost the class, the dearest first.
func (v classView) tests(heading, about string, list []review.OverviewTest) []content.Block {
	if len(list) == 0 {
		return nil
	}
	t := table("test", "times", "min lost")
	for _, x := range list[:min(mostRows, len(list))] {
		t.Row(v.lab.TestName(x.Test), fmt.Sprint(x.Times), wording.Short(x.Lost/10, 1))
	}
	return together(heading, content.Paragraph{Text: about}, t)
}

// misjudged lists readings with what a good one would have been.
func (v classView) misjudged() []content.Block {
	list := v.o.Misjudged
	if len(list) == 0 {
		return nil
	}
	t := table("test", "a good reading", "wrong or missing")
	t.Columns[1] = content.Column{Head: "a good reading", Share: 0.6}
	for _, x := range list[:min(mostRows, len(list))] {
		t.Row(v.lab.TestName(x.Test), v.lab.Tests[x.Test].Spec, fmt.Sprintf("%d of %d", x.Times, x.Of))
	}
	return together("Readings that were misjudged", t)
}

// wrong lists the wrong repairs, which tell what the class takes for what.
func (v classView) wrong() []content.Block {
	list := v.o.Wrong
	if len(list) == 0 {
		return nil
	}
	t := table("repair", "students")
	for _, w := range list[:min(mostRows, len(list))] {
		t.Row(wording.Repair(v.lab.Repairs[w.Repair]), fmt.Sprint(w.Students))
	}
	return together("Wrong conclusions", t)
}

// look lists what a person should look at.
func (v classView) look() []content.Block {
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
		items = append(items, wording.Count(n, "remark", "remarks")+" on what was handed in: see problems.csv.")
	}
	if len(items) == 0 {
		return nil
	}
	return []content.Block{content.Heading{Level: 2, Text: "To look at before the marks are final"},
		content.List{Items: items}}
}
