package printouts

import (
	"fmt"

	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// sheetsPerDocument bounds the memory that one document of a large school takes.
const sheetsPerDocument = 200

// partsOf cuts a lab into labs of at most n sheets, where it can between two sections. What is printed of a part
// is made from the part alone and given up once it is written, so memory does not grow with the school.
func partsOf(l *lab.Lab, n int) []*lab.Lab {
	var parts []*lab.Lab
	for from := 0; from < len(l.Sheets); {
		to := min(from+n, len(l.Sheets))
		for at := to; to < len(l.Sheets) && at > from+n/2; at-- {
			if l.Sheets[at-1].Section != l.Sheets[at].Section {
				to = at
				break
			}
		}
		part := *l
		part.Sheets = l.Sheets[from:to]
		parts = append(parts, &part)
		from = to
	}
	return parts
}

// apart cuts the spares off, which have a document of their own: they are printed when somebody needs one. Of a lab for
// guests alone all sheets are needed.
func apart(l *lab.Lab) (students, spares *lab.Lab) {
	named, rest := *l, *l
	named.Sheets, rest.Sheets = nil, nil
	for _, s := range l.Sheets {
		if s.Student == "" {
			rest.Sheets = append(rest.Sheets, s)
		} else {
			named.Sheets = append(named.Sheets, s)
		}
	}
	if len(named.Sheets) == 0 {
		return &rest, &named
	}
	return &named, &rest
}

// numbered is the end of the name of a part's document, "" where there is one part.
func numbered(part, parts int) string {
	if parts == 1 {
		return ""
	}
	return fmt.Sprintf("-%02d", part+1)
}

// only is a handout with one of its sheets alone.
func only(h handout.Handout, i int) handout.Handout {
	h.Worksheets, h.Readings = h.Worksheets[i:i+1], h.Readings[i:i+1]
	return h
}
