package printouts

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"nospark/printouts/page"
	"nospark/scenarios/handout"
)

// Worksheets prints the students' own sheets, two pages each: one document for the class. For a single sheet give it a handout from
// Only; the pages are the same.
func Worksheets(h handout.Handout) ([]byte, error) {
	doc, err := newSheets(h, "worksheets")
	if err != nil {
		return nil, err
	}
	var form *worksheet
	for _, w := range h.Worksheets {
		if w.Large {
			largeWorksheet(doc, h, w)
			continue
		}
		flow := doc.Section(page.Frame{Name: "Sheet " + w.Code, Foot: joined(", ", "Sheet "+w.Code, h.Title, h.Date), Size: 10, Side: leafSide})
		if form == nil || !form.serves(w) {
			form = planWorksheet(flow, h, w)
		}
		form.flow, form.sheet = flow, w
		form.print()
	}
	return doc.Bytes()
}

// density is how closely a worksheet is set. The first of the densities at which a sheet fits two pages is used. Nobody writes by hand
// on lines closer than 8 mm, and the grid keeps 9 pt until the last of all.
type density struct {
	row    float64 // mm, height of a row of the grid
	grid   float64 // pt
	item   float64 // mm, height of a line of the small tables
	list   float64 // pt
	write  float64 // mm, height of a line to write on
	reason int     // lines for the reason
}

var densities = []density{
	{5.4, 10, 4.9, 9.5, 9, 3},
	{5.0, 10, 4.6, 9, 8.6, 3},
	{4.7, 9.5, 4.4, 9, 8.5, 3},
	{4.4, 9.5, 4.2, 9, 8.4, 3},
	{4.2, 9, 4.1, 9, 8.4, 3},
	{4.0, 9, 3.9, 9, 8.3, 3},
	{3.8, 9, 3.7, 8.5, 8.2, 3},
	{3.6, 9, 3.5, 8.5, 8, 3},
	{3.5, 9, 3.4, 8.5, 8, 2},
	{3.4, 9, 3.3, 8.5, 8, 2},
	{3.3, 8.5, 3.2, 8, 8, 2},
	{3.2, 8.5, 3.05, 8, 8, 2},
}

// roomy reports whether there is room for what helps but need not be.
func (d density) roomy() bool { return d.row > 3.7 }

const stubHeight = 16.5 // mm below the top margin; the back of it is left free of what the student needs

// planWorksheet places a worksheet's parts at the first density that needs two pages, or at the closest one.
func planWorksheet(flow *page.Flow, h handout.Handout, w handout.Worksheet) *worksheet {
	var s *worksheet
	for _, d := range densities {
		// placing is cheap beside drawing, and nothing is drawn before print
		s = &worksheet{leaves: newLeaves(flow, h.Paper), density: d, handout: h, sheet: w}
		s.stub()
		s.head()
		s.grid()
		s.lists()
		s.record()
		if len(s.pages) <= 2 {
			break
		}
	}
	return s
}

// serves reports whether another sheet has its parts in the same places: all of a class do, for they differ in names, codes and lines.
func (s *worksheet) serves(w handout.Worksheet) bool {
	sameCell := func(a, b handout.Cell) bool { return (a.Line == 0) == (b.Line == 0) }
	sameRow := func(a, b handout.SmallRow) bool {
		a.Line = b.Line
		return a == b
	}
	return s.sheet.Complaint == w.Complaint &&
		slices.EqualFunc(s.sheet.Grid, w.Grid, func(a, b []handout.Cell) bool { return slices.EqualFunc(a, b, sameCell) }) &&
		slices.EqualFunc(s.sheet.Tables, w.Tables, func(a, b handout.SmallTable) bool {
			return a.Heading == b.Heading && slices.EqualFunc(a.Rows, b.Rows, sameRow)
		})
}

// printedName is the name with the id beside it, which tells the student even where the typeface lacks the letters of the name.
func printedName(w handout.Worksheet) string { return joined(", ", w.Name, w.Student, w.Section) }

// worksheet is the form of the worksheets, placed for one of them, and the sheet that is printed on it: what is preprinted follows from the
// class reference, everything else from sheet at the time of drawing.
type worksheet struct {
	*leaves
	density density
	handout handout.Handout
	sheet   handout.Worksheet
}

// stub is the strip with the name. It is torn off, so that whoever grades sees the code alone.
func (s *worksheet) stub() {
	const base = 5.0
	s.fix(0, s.y, s.width, stubHeight, func(c page.Canvas) {
		code := page.Style{Size: 12, Bold: true, Align: page.Right}
		c.Text(c.W, base, "Sheet "+s.sheet.Code, code)
		room := c.W - c.Width("Sheet "+s.sheet.Code, code) - 6
		if printedName(s.sheet) == "" { // a spare: whoever gets it writes a name
			c.Text(0, base, "Name", page.Style{Size: 12})
			c.Line(14, base+0.8, room, base+0.8, page.Pen{Line: page.Gray, Width: 0.25})
		} else {
			s.nameLine(c, base, room)
		}
	})
	s.preprint(stubHeight, func(c page.Canvas) {
		tear := "tear off before handing in; the sheet below carries only its code"
		small := page.Style{Size: 8, Condensed: true, Align: page.Right}
		c.Text(c.W, base+5.5, tear, small)
		c.Fit(0, base+5.5, c.W-c.Width(tear, small)-6, joined(", ", s.handout.Program, s.handout.Title, s.handout.Date), page.Style{Size: 9})
		y := stubHeight - 3.5
		// to the edges of the paper, where the tear begins
		c.Line(-leafSide, y, c.W+leafSide, y, page.Pen{Line: page.Black, Width: 0.3, Dash: page.Dashed})
	})
}

// nameLine prints the name and, always whole, the id: it tells the student even where the name is cut or the typeface lacks its letters.
func (s *worksheet) nameLine(c page.Canvas, base, room float64) {
	style := page.Style{Size: 12, Bold: true}
	id := joined(", ", s.sheet.Student, s.sheet.Section)
	name := s.sheet.Name
	if name != "" && id != "" {
		name += ","
	}
	wide := min(c.Width(name, style), room-c.Width(id, style)-2)
	c.Fit(0, base, wide, name, style)
	c.Fit(wide+2, base, room-wide-2, id, style)
}

// head prints title, code, complaint, vehicle and cautions.
func (s *worksheet) head() {
	s.put(8.5, func(c page.Canvas) {
		code := page.Style{Size: 14, Bold: true}
		wide := c.Width(s.sheet.Code, code) + 6
		c.RoundRect(c.W-wide, -0.5, wide, 8, 1.2, page.Pen{Line: page.Black, Width: 0.45})
		c.Text(c.W-wide/2, 3.5, s.sheet.Code, page.Style{Size: 14, Bold: true, Align: page.Center, Level: page.Middle})
		c.Fit(0, 5.4, c.W-wide-4, s.handout.Title, page.Style{Size: 16, Bold: true, Condensed: true})
	})
	s.labelled("Complaint", s.sheet.Complaint, page.Style{Size: 12}, 1.6)
	s.labelled("Vehicle", vehicleText(s.handout.Reference.Vehicle), page.Style{Size: 9, Condensed: true}, 0.8)
	s.y += 1
	s.preprint(page.ShortCautionsHeight(s.flow, s.width), page.ShortCautions)
	s.y += 1.5
}

// vehicleText makes a sentence of each fact. The one that is called "vehicle" needs no name, for the label beside it says so.
func vehicleText(facts []handout.VehicleFact) string {
	var sentences []string
	for _, f := range facts {
		text := upperFirst(strings.TrimSpace(f.Value))
		if !strings.EqualFold(f.Name, "vehicle") {
			text = "**" + upperFirst(f.Name) + ":** " + f.Value
		}
		if !strings.HasSuffix(text, ".") {
			text += "."
		}
		sentences = append(sentences, text)
	}
	return strings.Join(sentences, " ")
}

// upperFirst makes the first letter of a text a capital.
func upperFirst(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

// labelled prints a text with its label in the margin before it, so that the eye finds complaint and vehicle without reading. An empty
// text takes no room.
func (s *worksheet) labelled(label, text string, style page.Style, above float64) {
	if text == "" {
		return
	}
	const indent = 25.0
	p := s.flow.Set(s.width-indent, text, style)
	s.y += above
	s.preprint(p.H, func(c page.Canvas) {
		first := c.LineHeight(style)
		c.Text(0, first/2, label, page.Style{Size: style.Size, Bold: true, Condensed: true, Level: page.Middle})
		c.Paragraph(indent, 0, p)
	})
}

// section prints the heading of a part, and beside it a remark.
func (s *worksheet) section(heading, remark string) {
	s.preprint(sectionHigh, func(c page.Canvas) { drawSection(c, heading, remark) })
}

const sectionHigh = 5.6 // mm

func drawSection(c page.Canvas, heading, remark string) {
	style := page.Style{Size: 12, Bold: true, Condensed: true}
	c.Fit(0, 4.2, c.W, heading, style)
	x := c.Width(heading, style) + 4
	const least = 30.0 // mm, for a remark that can be read
	if c.W-x >= least {
		c.Fit(x, 4.2, c.W-x, remark, page.Style{Size: 9, Condensed: true})
	}
}
