package worksheets

import "nospark/printouts/page"

// Measures of a worksheet in large print: nothing on it is smaller than 18 pt (APH guideline), and lines of 18 pt stand
// 7.1 mm apart.
const (
	largeSize  = 18.0 // pt
	largePitch = 7.1  // mm
	largeFoot  = 6.0  // mm, by which the foot of a page is higher
	largeStrip = 24.0 // mm
	largeTear  = 18.5 // mm, from the top of the strip to the line along which it is torn off
	largeWrite = 9.5  // mm, of a line to write on
)

var (
	largeText   = page.Style{Size: largeSize, Condensed: true}
	largeStrong = page.Style{Size: largeSize, Condensed: true, Bold: true}
)

// flow places a paragraph in large print, whole, on as many pages as it needs. No page begins or ends with a line that
// stands alone.
func (s *worksheet) flow(above float64, text string) {
	if text == "" {
		return
	}
	p := s.Flow.Set(s.Width, text, largeText)
	s.Y += above
	for from := 0; from < p.Lines(); {
		rest, fit := p.Lines()-from, int((s.Room()+1e-6)/p.Pitch)
		if fit < rest {
			if fit = min(fit, rest-2); fit < 2 {
				s.next()
				continue
			}
		}
		begin, to := from, from+min(fit, rest)
		s.Put(float64(to-begin)*p.Pitch, func(c page.Canvas) { c.Lines(0, 0, p, begin, to) })
		from = to
	}
}
