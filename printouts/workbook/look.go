package workbook

import "github.com/xuri/excelize/v2"

// Colours of Okabe and Ito, which most people who see colours differently can tell apart, and greys. A colour never stands alone: a word,
// a sign or a number says the same.
const (
	black      = "000000"
	blue       = "0072B2" // besides black the only one for text: 5.2:1 on white
	skyBlue    = "56B4E9"
	orange     = "E69F00"
	vermillion = "D55E00"
	paleBlue   = "DCEBF5"
	paleAmber  = "FBEBC8"
	paleGrey   = "F0F0F0"
	ruleGrey   = "BFBFBF"
	textGrey   = "595959" // the lightest grey for text
)

// fontName is on every office computer, or replaced there by a font of the same widths.
const fontName = "Arial"

// look is how a cell is drawn. The zero value is plain text of 10 points.
type look struct {
	Size     float64 // points; 0: 10
	Bold     bool
	Italic   bool
	Ink      string // colour of the text; "": black
	Fill     string // "": none
	Across   string // left, center or right; "": texts left, numbers right
	Wrap     bool
	Top      bool   // to the top of a high row; otherwise the middle
	Border   bool   // a thin line around
	Under    string // colour of a thick line below; "": none
	Number   string // number format; "@" keeps whatever is typed as text
	Unlocked bool   // may be typed into although the sheet is protected
}

// style is the look in the library's terms. Everything is spelt out, also what would be the default, because programs differ in theirs.
func (l look) style() *excelize.Style {
	size, ink := l.Size, l.Ink
	if size == 0 {
		size = 10
	}
	if ink == "" {
		ink = black
	}
	vertical := "center"
	if l.Top {
		vertical = "top"
	}
	s := &excelize.Style{
		Font:       &excelize.Font{Family: fontName, Size: size, Bold: l.Bold, Italic: l.Italic, Color: ink},
		Alignment:  &excelize.Alignment{Horizontal: l.Across, Vertical: vertical, WrapText: l.Wrap},
		Protection: &excelize.Protection{Locked: !l.Unlocked},
	}
	if l.Border && l.Across == "left" {
		s.Alignment.Indent = 1 // away from the line; at the right LibreOffice does so only now and then
	}
	if l.Fill != "" {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{l.Fill}}
	}
	if l.Border {
		for _, side := range []string{"left", "right", "top", "bottom"} {
			s.Border = append(s.Border, excelize.Border{Type: side, Color: ruleGrey, Style: 1})
		}
	}
	if l.Under != "" {
		s.Border = append(s.Border, excelize.Border{Type: "bottom", Color: l.Under, Style: 5})
	}
	if l.Number != "" {
		s.CustomNumFmt = &l.Number
	}
	return s
}

// Number formats.
const (
	asText  = "@"
	whole   = "0"
	tenths  = "0.0"
	percent = "0%"
)

// The looks that several sheets share. Titles and notes have no border, since they run over the empty cells beside them.
var (
	titleLook   = look{Size: 14, Bold: true}
	noteLook    = look{Ink: textGrey}
	headingLook = look{Size: 11, Bold: true, Ink: blue}
	headLook    = look{Bold: true, Fill: paleBlue, Wrap: true, Across: "center", Top: true, Border: true}
	textLook    = look{Border: true, Across: "left"}
	wrapLook    = look{Border: true, Across: "left", Wrap: true}
	midLook     = look{Border: true, Across: "center"}
	wholeLook   = look{Border: true, Across: "right", Number: whole}
	tenthsLook  = look{Border: true, Across: "right", Number: tenths}
	percentLook = look{Border: true, Across: "right", Number: percent}
)
