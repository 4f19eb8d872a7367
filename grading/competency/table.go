package competency

import (
	"cmp"
	"slices"
	"strconv"

	"nospark/scenarios/tabular"
)

// evidenceHead are the columns of the evidence as a table, one line for each opportunity that counts, oldest first for
// each student: the day (2026-10-05) and name of the lab, the id of its term, the section, the student's id and name
// (or the code alone), the pack, the vehicle of the student in that lab (0 where each has one), the id of the
// competency, and whether the opportunity was met, 1 or 0.
var evidenceHead = []string{"date", "lab", "term", "section", "student", "name", "pack", "vehicle", "competency", "met"}

// EvidenceTable writes the evidence of a term as CSV (RFC 4180). Without names there are codes, made for that purpose,
// and no name: a code is no id and no code of a sheet, which a partner knows, and its order tells nothing.
func (t *Term) EvidenceTable(names bool) []byte {
	rows := [][]string{evidenceHead}
	students := slices.Clone(t.Students)
	if !names { // by name they are an alphabetical list, which tells whose code is whose
		slices.SortFunc(students, func(a, b Student) int { return cmp.Compare(a.Code, b.Code) })
	}
	for _, s := range students {
		who, name := s.Code, ""
		if names {
			who, name = s.ID, s.Name
		}
		for c := range s.Standings {
			for _, o := range s.Standings[c].Opportunities {
				met := "0"
				if o.Evidence.Met {
					met = "1"
				}
				rows = append(rows, []string{o.Record.Date, o.Record.Lab, o.Record.Term, o.Record.Section, who, name, o.Record.Pack,
					strconv.Itoa(o.Entry.Vehicle), o.Evidence.Competency, met})
			}
		}
	}
	return tabular.Encode(rows, true)
}
