package printouts

import "nospark/printouts/page"

// Unprintable counts, for each text, the characters that the fonts lack; they appear as □. The error is of the
// embedded typefaces.
func Unprintable(texts []string) ([]int, error) {
	fonts, err := page.LoadFonts()
	if err != nil {
		return nil, err
	}
	counts := make([]int, len(texts))
	for i, text := range texts {
		counts[i] = fonts.Legible(text).Replaced
	}
	return counts, nil
}
