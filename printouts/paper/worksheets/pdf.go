// Package worksheets places the parts of a worksheet on its two pages. What stands there is said by package handouts.
package worksheets

import (
	"slices"

	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/printouts/page"
	"nospark/printouts/paper"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// PDF prints the students' own sheets, two pages each: one document for the class. The pages of a sheet are the
// same whatever others are printed with it.
func PDF(h handout.Handout) ([]byte, error) {
	doc, err := paper.New(content.Document{Title: h.Title + ", worksheets", Program: h.Program, Date: h.Date,
		Paper: h.Paper, FrontPages: true})
	if err != nil {
		return nil, err
	}
	var form *worksheet
	for _, w := range h.Worksheets {
		foot := handouts.SheetName(w.Code)
		if !w.Large { // there is no room for more
			foot = wording.Join(", ", foot, h.Title, h.Date)
		}
		flow := doc.Section(page.Frame{Name: handouts.SheetName(w.Code), Foot: foot, Size: 10, Side: paper.Side,
			Large: w.Large})
		if w.Large {
			planLarge(flow, h, w).Print()
			continue
		}
		if form == nil || !form.serves(w) {
			form = planWorksheet(flow, h, w)
		}
		form.Flow, form.sheet = flow, w
		form.Print()
	}
	return doc.Bytes()
}

// withAndWithoutRoles are all densities, first with the roles beside the points: they go before a third page comes.
func withAndWithoutRoles() []density {
	all := slices.Clone(densities)
	for _, d := range densities {
		d.bare = true
		all = append(all, d)
	}
	return all
}

var densities = []density{
	{5.4, 10, 4.9, 9.5, 9, 3, 2, false, false},
	{5.0, 10, 4.6, 9, 8.6, 3, 2, false, false},
	{4.7, 9.5, 4.4, 9, 8.5, 3, 2, false, false},
	{4.4, 9.5, 4.2, 9, 8.4, 3, 2, false, false},
	{4.2, 9, 4.1, 9, 8.4, 3, 2, false, false},
	{4.0, 9, 3.9, 9, 8.3, 3, 2, false, false},
	{3.8, 9, 3.7, 8.5, 8.2, 3, 2, false, false},
	{3.6, 9, 3.5, 8.5, 8, 3, 2, false, false},
	{3.5, 9, 3.4, 8.5, 8, 2, 2, false, false},
	{3.4, 9, 3.3, 8.5, 7.7, 2, 2, false, false},
	{4.2, 9, 4.1, 9, 8.4, 3, 2, false, true},
	{3.8, 9, 3.7, 8.5, 8, 3, 2, false, true},
	{3.6, 9, 3.5, 8.5, 7.7, 2, 2, false, true},
	{3.4, 9, 3.3, 8.5, 7.4, 2, 2, false, true},
	{3.3, 8.5, 3.2, 8, 7, 2, 2, false, true},
	{3.2, 8.5, 3.1, 8, 6.7, 1, 2, false, true},
	{3.1, 8.5, 2.95, 8, 6.35, 1, 2, false, true},
	{3, 8, 2.95, 8, 6.35, 1, 2, false, true},
	{3.8, 9, 3.7, 8.5, 8, 3, 3, false, false},
	{3.5, 9, 3.4, 8.5, 7.7, 2, 3, false, false},
	{3.3, 9, 3.3, 8.5, 7.4, 2, 3, false, false},
	{3.2, 9, 3.2, 8, 7.2, 2, 3, false, false},
	{3.2, 8.5, 3.05, 8, 7, 2, 3, false, false},
	{3.2, 8.5, 3.05, 8, 7, 1, 3, false, false},
	{3.1, 8.5, 2.95, 8, 6.35, 1, 3, false, false},
}

// planWorksheet places a worksheet's parts at the first density that needs two pages, or at the closest one.
func planWorksheet(flow *page.Flow, h handout.Handout, w handout.Worksheet) *worksheet {
	var s *worksheet
	for _, d := range withAndWithoutRoles() {
		// placing is cheap beside drawing, and nothing is drawn before print
		s = &worksheet{Pages: paper.NewPages(flow, h.Paper), density: d, handout: h, sheet: w}
		s.stub()
		s.head()
		s.grid()
		s.lists()
		s.record()
		if s.Count() <= 2 {
			break
		}
	}
	return s
}

// serves reports whether another sheet has its parts in the same places: all of a class do, for they differ in
// names, codes and lines.
func (s *worksheet) serves(w handout.Worksheet) bool {
	sameCell := func(a, b handout.Cell) bool { return (a.Line == 0) == (b.Line == 0) }
	sameRow := func(a, b handout.SmallRow) bool {
		a.Line = b.Line
		return a == b
	}
	return s.sheet.Complaint == w.Complaint &&
		slices.EqualFunc(s.sheet.Grid, w.Grid, func(a,
			b []handout.Cell) bool {
			return slices.EqualFunc(a, b, sameCell)
		}) &&
		slices.EqualFunc(s.sheet.Tables, w.Tables, func(a, b handout.SmallTable) bool {
			return a.Heading == b.Heading && slices.EqualFunc(a.Rows, b.Rows, sameRow)
		})
}

// mostLarge is how many pages a worksheet in large print may have before its points go without some of their names.
const mostLarge = 8

// planLarge places a worksheet in large print: the same sheet with the grid in parts, each with few enough columns for
// the size, and without the tests that the lab forbids.
func planLarge(flow *page.Flow, h handout.Handout, w handout.Worksheet) *worksheet {
	h, w = handouts.Allowed(h, w)
	var s *worksheet
	for _, bare := range []bool{false, true} {
		s = &worksheet{Pages: paper.NewPages(flow, h.Paper), handout: h, sheet: w, density: density{bare: bare}}
		s.Bottom -= largeFoot
		s.largeStrip()
		s.largeHead()
		s.largeGrid()
		s.largeLists()
		s.largeRecord()
		if s.Count() <= mostLarge {
			break
		}
	}
	return s
}
