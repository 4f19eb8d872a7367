package worksheets

import "nospark/printouts/page"

// Measures of a worksheet in large print: nothing on it is smaller than 18 pt (APH guideline), and lines of 18 pt stand
// 7.1 mm apart.
const (
	largeSize  = 18.0 // pt
	largePitch = 7.1  // mm
	largeFoot  = 6.0  // mm, by which the foot of a page is higher
	largeStrip = 24.0 // mm
	largeWrite = 9.5  // mm, of a line to write on
)

var (
	largeText   = page.Style{Size: largeSize, Condensed: true}
	largeStrong = page.Style{Size: largeSize, Condensed: true, Bold: true}
)
