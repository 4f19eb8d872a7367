package worksheets

import (
	"slices"
	"strings"

	"nospark/printouts/content"
	"nospark/printouts/handouts"
	"nospark/printouts/page"
	"nospark/printouts/paper"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// density is how closely a worksheet is set. The first of the densities at which a sheet fits two pages is used.
// Nobody writes by hand on lines closer than the 7 mm of ruled paper, or than the 6.35 mm (a quarter inch) of narrow
// ruled paper where nothing else helps (both from memory); the grid keeps 9 pt until then.
type density struct {
	row    float64 // mm, height of a row of the grid
	grid   float64 // pt
	item   float64 // mm, height of a line of the small tables
	list   float64 // pt
	write  float64 // mm, height of a line to write on
	reason int     // lines for the reason

	columns int  // of the small tables
	bare    bool // the grid goes without the roles of its points
	shared  bool // tests that differ in a number alone share a row
}

// roomy reports whether there is room for what helps but need not be.
func (d density) roomy() bool { return d.row > 3.7 }

// worksheet is the form of the worksheets, placed for one of them, and the sheet that is printed on it: what is
// preprinted follows from the booklet, everything else from sheet at the time of drawing.
type worksheet struct {
	*paper.Pages
	density density
	handout handout.Handout
	sheet   handout.Worksheet
}

const stubNote = "tear off before handing in; below stands only the code"

// stub is the strip with the name. It is torn off, so that whoever grades sees the code alone.
func (s *worksheet) stub() {
	s.PutAt(0, s.Y, s.Width, paper.StripHigh, func(c page.Canvas) {
		base, room := paper.StripCode(c, handouts.SheetName(s.sheet.Code))
		if handouts.Person(s.sheet) == "" { // a spare: whoever gets it writes a name
			c.Text(0, base, "Name", page.Style{Size: 12})
			c.Line(14, base+0.8, room, base+0.8, page.Pen{Line: page.Gray, Width: 0.25})
		} else {
			s.nameLine(c, base, room, 12)
		}
	})
	s.PutShared(paper.StripHigh, func(c page.Canvas) {
		paper.StripNote(c, handouts.About(s.handout), stubNote)
	})
}

// nameLine prints the name and, always whole, the id: it tells the student even where the name is cut or the
// typeface lacks its letters.
func (s *worksheet) nameLine(c page.Canvas, base, room, size float64) {
	style := page.Style{Size: size, Bold: true}
	id := wording.Join(", ", s.sheet.Student, s.sheet.Section)
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
	// the code is that of the sheet when it is drawn, not of the one that was measured
	s.Put(paper.TitleHigh, func(c page.Canvas) { paper.Title(c, s.handout.Title, s.sheet.Code) })
	s.labeled("Complaint", s.sheet.Complaint, page.Style{Size: 12}, 1.6, 0)
	s.vehicle()
	s.workOrder()
	s.proof()
	s.Y += 1
	s.cautions()
	s.Y += 1.5
}

// cautions prints the short cautions of the lab.
func (s *worksheet) cautions() {
	of := content.Cautions{Lacks: s.handout.Lacks}
	s.PutShared(s.cautionsHeight(), func(c page.Canvas) { page.ShortCautions(c, of) })
}

func (s *worksheet) cautionsHeight() float64 {
	return page.ShortCautionsHeight(s.Flow, s.Width, content.Cautions{Lacks: s.handout.Lacks})
}

// labeled prints a text with its label in the margin before it, so that the eye finds complaint and vehicle
// without reading; free is what is left free at its right, mm. An empty text takes no room.
func (s *worksheet) labeled(label, text string, style page.Style, above, free float64) {
	if text == "" {
		return
	}
	const indent = 25.0
	p := s.Flow.Set(s.Width-indent-free, text, style)
	s.Y += above
	s.PutShared(p.H, func(c page.Canvas) {
		first := c.LineHeight(style)
		c.Text(0, first/2, label, page.Style{Size: style.Size, Bold: true, Condensed: true, Level: page.Middle})
		c.Paragraph(indent, 0, p)
	})
}

// section prints the heading of a part, and beside it a remark.
func (s *worksheet) section(heading, remark string) {
	s.PutShared(sectionHigh, func(c page.Canvas) { drawSection(c, heading, remark, 10) })
}

const sectionHigh = 5.6 // mm

// drawSection prints a heading and beside it a remark, whose size is in points.
func drawSection(c page.Canvas, heading, remark string, size float64) {
	style := page.Style{Size: 12, Bold: true, Condensed: true}
	c.Fit(0, 4.2, c.W, heading, style)
	x := c.Width(heading, style) + 4
	const least = 30.0 // mm, for a remark that can be read
	if c.W-x >= least {
		c.Fit(x, 4.2, c.W-x, remark, page.Style{Size: size, Condensed: true})
	}
}

// arrivedWide is the room of temperatures and mileage, beside the vehicle, mm.
const arrivedWide = 80.0

// vehicle prints the vehicle, and at its right the temperatures and the mileage; where a pack gives no name of a
// vehicle, these stand in its place.
func (s *worksheet) vehicle() {
	name, style := handouts.VehicleName(s.handout.Reference.Vehicle), page.Style{Size: 10, Condensed: true}
	if name == "" {
		s.labeled("Vehicle", " ", style, 0.8, arrivedWide)
		s.PutAt(0, s.Y-4.4, s.Width, 4.4, func(c page.Canvas) {
			c.Text(25, 3.1, handouts.Arrived(s.handout, s.sheet), style)
		})
		return
	}
	s.labeled("Vehicle", name, style, 0.8, arrivedWide)
	style.Align = page.Right
	s.PutAt(0, s.Y-4.4, s.Width, 4.4, func(c page.Canvas) {
		c.Text(c.W, 3.1, handouts.Arrived(s.handout, s.sheet), style)
	})
}

// workOrder prints what was measured already. The place is the same on every sheet of the class, as high as the longest
// of their work orders, whatever its own says.
func (s *worksheet) workOrder() {
	const indent = 25.0
	label := page.Style{Size: 10, Bold: true, Condensed: true}
	known := slices.ContainsFunc(s.handout.Worksheets, func(w handout.Worksheet) bool { return len(w.Known) > 0 })
	high := 4.4
	for _, w := range s.handout.Worksheets {
		sum := 0.0
		for _, p := range s.known(s.Width-indent, w) {
			sum += p.H
		}
		high = max(high, sum)
	}
	if !known {
		return
	}
	s.Y += 0.8
	s.Put(high, func(c page.Canvas) {
		c.Text(0, 3.3, handouts.KnownNote, label)
		y := 0.0
		for _, p := range s.known(c.W-indent, s.sheet) {
			c.Paragraph(indent, y, p)
			y += p.H
		}
		if len(s.sheet.Known) == 0 {
			c.Text(indent, 3.3, "nothing", page.Style{Size: 10, Condensed: true})
		}
	})
}

// known sets what a work order gives as measured.
func (s *worksheet) known(wide float64, w handout.Worksheet) []page.Paragraph {
	var set []page.Paragraph
	for _, text := range handouts.Known(w) {
		p := s.Flow.Set(wide, strings.ReplaceAll(text, "**", ""), page.Style{Size: 10, Condensed: true})
		p.Pitch = 4.2
		p.H = float64(p.Lines()) * p.Pitch
		set = append(set, p)
	}
	return set
}

// proof says when a repair may be concluded.
func (s *worksheet) proof() {
	s.labeled("Proof", wording.Join(" ", handouts.Proven(s.handout), handouts.NotToday(s.handout)),
		page.Style{Size: 10, Condensed: true}, 0.8, 0)
}
