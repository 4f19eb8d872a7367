package page

import "regexp"

// Count is the number of pages of a PDF that this package has made.
func Count(pdf []byte) int { return len(regexp.MustCompile(`/Type /Page\b`).FindAllIndex(pdf, -1)) }
