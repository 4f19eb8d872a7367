package vector

import (
	"math"
	"testing"
)

// TestColorsCanBeRead computes contrast with white paper by the formula of WCAG 2.2, "relative luminance": 4.5 is asked
// for text.
func TestColorsCanBeRead(t *testing.T) {
	for color := None; color <= Purple; color++ {
		if got := color.ForText(); got != White && contrast(got) < 4.5 {
			t.Errorf("text in color %d is printed with contrast %.1f", color, contrast(got))
		}
	}
	if c := contrast(Blue); math.Abs(c-5.2) > 0.05 { // Okabe and Ito's blue 0072B2: 5.2 to 1, computed elsewhere
		t.Errorf("contrast of blue is %.2f", c)
	}
}

func contrast(color Color) float64 {
	linear := func(v int) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	r, g, b := color.RGB()
	return 1.05 / (0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b) + 0.05)
}
