package workbook

import "github.com/xuri/excelize/v2"

// Colors of Okabe and Ito, which most people who see colors differently can tell apart, and grays. A color never stands
// alone: a word, a sign or a number says the same.
const (
	Black      = "000000"
	Blue       = "0072B2" // besides black the only one for text: 5.2:1 on white
	SkyBlue    = "56B4E9"
	Orange     = "E69F00"
	Vermillion = "D55E00"
	PaleBlue   = "DCEBF5"
	PaleAmber  = "FBEBC8"
	PaleGray   = "F0F0F0"
	ruleGray   = "BFBFBF"
	TextGray   = "595959" // the lightest gray for text
)

// fontName is on every office computer, or replaced there by a font of the same widths.
const fontName = "Arial"

// Style is how a cell is drawn. The zero value is plain text of 10 points.
type Style struct {
	Size     float64 // points; 0: 10
	Bold     bool
	Italic   bool
	Color    string // color of the text; "": black
	Fill     string // "": none
	Align    string // left, center or right; "": texts left, numbers right
	Wrap     bool
	Top      bool   // to the top of a high row; otherwise the middle
	Border   bool   // a thin line around
	Format   string // number format; "@" keeps whatever is typed as text
	Unlocked bool   // may be typed into although the sheet is protected
}

// native is the style in the library's terms. Everything is spelt out, also what would be the default, because programs
// differ in theirs.
func (l Style) native() *excelize.Style {
	size, ink := l.Size, l.Color
	if size == 0 {
		size = 10
	}
	if ink == "" {
		ink = Black
	}
	vertical := "center"
	if l.Top {
		vertical = "top"
	}
	s := &excelize.Style{
		Font:       &excelize.Font{Family: fontName, Size: size, Bold: l.Bold, Italic: l.Italic, Color: ink},
		Alignment:  &excelize.Alignment{Horizontal: l.Align, Vertical: vertical, WrapText: l.Wrap},
		Protection: &excelize.Protection{Locked: !l.Unlocked},
	}
	if l.Border && l.Align == "left" {
		s.Alignment.Indent = 1 // away from the line; at the right LibreOffice does so only now and then
	}
	if l.Fill != "" {
		s.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{l.Fill}}
	}
	if l.Border {
		for _, side := range []string{"left", "right", "top", "bottom"} {
			s.Border = append(s.Border, excelize.Border{Type: side, Color: ruleGray, Style: 1})
		}
	}
	if l.Format != "" {
		s.CustomNumFmt = &l.Format
	}
	return s
}

// Number formats.
const (
	AsText  = "@"
	Whole   = "0"
	Tenths  = "0.0"
	Percent = "0%"
	Day     = "yyyy-mm-dd"
)

// The styles that several sheets share. Titles and notes have no border, since they run over the empty cells beside
// them.
var (
	TitleStyle   = Style{Size: 14, Bold: true}
	NoteStyle    = Style{Color: TextGray}
	HeadingStyle = Style{Size: 11, Bold: true, Color: Blue}
	HeadStyle    = Style{Bold: true, Fill: PaleBlue, Wrap: true, Align: "center", Top: true, Border: true}
	TextStyle    = Style{Border: true, Align: "left"}
	WrapStyle    = Style{Border: true, Align: "left", Wrap: true}
	CenterStyle  = Style{Border: true, Align: "center"}
	WholeStyle   = Style{Border: true, Align: "right", Format: Whole}
	TenthsStyle  = Style{Border: true, Align: "right", Format: Tenths}
	DateStyle    = Style{Border: true, Align: "center", Format: Day}
	PercentStyle = Style{Border: true, Align: "right", Format: Percent}
)
