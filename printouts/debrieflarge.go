package printouts

import (
	"fmt"

	"nospark/grading"
	"nospark/printouts/page"
)

// large prints the debrief of a student with large print: the same texts one below the other, on as many pages as they need. The
// name has a page to itself, which takes the place of the strip.
func (d *debrief) large(doc *page.Document) {
	cover := doc.Section(page.Frame{Name: "Name " + d.s.Sheet, Large: true})
	cover.Title(joined(", ", d.s.Name, d.s.Student, d.s.Section), "Sheet "+d.s.Sheet)
	cover.Para("Take this page off before the debrief is left lying. The pages that follow carry the code alone.")
	d.spacing = spacing{lines: 99, name: 99} // the words of the remarks at full length
	f := doc.Section(page.Frame{Name: "Debrief " + d.s.Sheet, Right: "Sheet " + d.s.Sheet, Foot: "Debrief", Large: true})
	if !d.s.Status.HasMark() {
		title, paragraphs := d.nothingText()
		f.Title(title, d.lab.Title)
		for _, p := range paragraphs {
			f.Para(p)
		}
		f.CautionsShort()
		return
	}
	f.Title("Debrief", d.lab.Title)
	mark := "**Mark " + points(d.s.Mark) + "** of 100"
	if d.s.Status == grading.Provisional {
		mark += ", provisional"
	}
	f.Para(mark + ". Spent " + minutes(d.s.Minutes) + " minutes, best play " + minutes(d.s.Best) + " minutes.")
	if d.s.Why != "" {
		f.Para(statusWord(d.s) + ": " + d.s.Why)
	}
	for _, v := range d.facts() {
		f.Para("**" + v.label + ":** " + v.text)
	}
	f.Heading("How the mark comes about")
	for _, p := range d.parts() {
		f.Para(fmt.Sprintf("**%s: %s of %d.** %s", p.name, points(p.points), p.of, joined(". ", p.how, p.why)))
	}
	f.Para(d.lostText())
	f.Heading("Your route and best play")
	f.Chart(page.Chart{XLabel: "minutes spent", YLabel: "suspects left", Step: true, Series: []page.Series{d.ownSeries(), d.bestSeries()}})
	d.largeSteps(f)
	if text := d.bestPlayText(); text != "" {
		f.Para(text)
	}
	if len(d.s.Remarks) > 0 {
		f.Heading("Remarks")
		f.Bullets(d.s.Remarks...)
	}
	if d.s.Practise != "" {
		f.Note("Practise next", d.s.Practise)
	}
	f.CautionsShort()
}

// largeSteps prints the steps as a list, because no table of seven columns can be read in large print. A step is not cut.
func (d *debrief) largeSteps(f *page.Flow) {
	f.Heading("Your steps")
	if len(d.s.Steps) == 0 {
		f.Para("No test was written down, so nothing was ruled out.")
	}
	for i, s := range d.s.Steps {
		f.Together(func() {
			f.Para(fmt.Sprintf("**%d.** %s %s", i+1, written(s), d.stepName(s)))
			f.Para(joined(". ", s.Reading, "Judged: "+judged(s), fmt.Sprintf("%s min, %s lost", minutes(s.Minutes), lostMinutes(s.Lost)),
				fmt.Sprintf("Suspects: %d before, %d after", s.Before, s.After)) + ".")
			f.Para(d.remarkOn(i))
		})
	}
}
