package svg

import (
	"unicode"

	"nospark/printouts/vector"
)

// Widths of the characters from space to tilde in thousandths of the size (DejaVu Sans and DejaVu Sans Bold, table
// hmtx).
var (
	regular = [...]uint16{
		318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
		636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531,
		1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
		603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500,
		500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
		635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
	}
	bold = [...]uint16{
		348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365,
		696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580,
		1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995, 837, 850,
		733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500,
		500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687,
		716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838,
	}
)

// condensed is how much narrower condensed letters are.
const condensed = 0.9

// Width is the width of a line of text, mm. It is exact for the characters of ASCII in DejaVu Sans, and near it for
// others.
func Width(text string, s vector.Style) float64 {
	sum := 0
	for _, r := range text {
		sum += advance(r, s.Bold)
	}
	width := float64(sum) / 1000 * s.Size * vector.PerPoint
	if s.Condensed {
		width *= condensed
	}
	return width
}

// advance is the width of a character in thousandths of the size.
func advance(r rune, heavy bool) int {
	switch {
	case r >= ' ' && r <= '~' && heavy:
		return int(bold[r-' '])
	case r >= ' ' && r <= '~':
		return int(regular[r-' '])
	case unicode.Is(unicode.M, r): // accents stand above a letter
		return 0
	case r >= 0x1100: // scripts with square characters among them
		return 1000
	case unicode.IsLetter(r):
		return 700
	}
	return 850 // signs, as wide as plus and minus
}
