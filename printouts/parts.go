package printouts

import (
	"fmt"

	"nospark/scenarios"
)

// sheetsPerDocument bounds the memory that one document of a large school takes.
const sheetsPerDocument = 200

// partsOf cuts a lab into labs of at most n sheets, where it can between two sections. What is printed of a part
// is made from the part alone and given up once it is written, so memory does not grow with the school.
func partsOf(lab *scenarios.Lab, n int) []*scenarios.Lab {
	var parts []*scenarios.Lab
	for from := 0; from < len(lab.Sheets); {
		to := min(from+n, len(lab.Sheets))
		for at := to; to < len(lab.Sheets) && at > from+n/2; at-- {
			if lab.Sheets[at-1].Section != lab.Sheets[at].Section {
				to = at
				break
			}
		}
		part := *lab
		part.Sheets = lab.Sheets[from:to]
		parts = append(parts, &part)
		from = to
	}
	return parts
}

// numbered is the end of the name of a part's document, "" where there is one part.
func numbered(part, parts int) string {
	if parts == 1 {
		return ""
	}
	return fmt.Sprintf("-%02d", part+1)
}

// only is a handout with one of its sheets alone.
func only(h scenarios.Handout, i int) scenarios.Handout {
	h.Worksheets, h.Readings = h.Worksheets[i:i+1], h.Readings[i:i+1]
	return h
}
