package competency

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"nospark/grading/evidence"
	"nospark/scenarios/tabular"
)

// ResidueFile is what stays of purged records, for statistics over years: counts and nothing of anybody.
const ResidueFile = "residue.csv"

// residueHead are its columns, one line for each lab and competency, sections together: the id of the term, name, day
// and pack of the lab, the id of the competency, how many students had an opportunity, how many opportunities they had,
// and how many of those were met.
var residueHead = []string{"term", "lab", "date", "pack", "competency", "students", "opportunities", "met"}

// leastCell is the least count that is told. A smaller one could be somebody, so "<5" stands for the students and the
// other cells are empty; likewise for the met where fewer than that were met or missed. Common practice, no source.
const leastCell = 5

// AddResidue gives the file with what stays of records that are about to be deleted; old is what is in it, nil for
// none. A lab is counted once, before the first of its records goes: what a purge that was interrupted has left of them
// adds nothing.
func AddResidue(old []byte, records []*evidence.Record) ([]byte, error) {
	var rows [][]string
	counted := map[[3]string]bool{} // by term, lab and day
	if len(old) > 0 {
		t, err := tabular.ReadTable(old, tabular.Options{Separator: ','})
		if err != nil || !slices.Equal(t.Heading.Cells, residueHead) {
			return nil, fmt.Errorf("is no table of that kind any more; move it away, and a new one is written")
		}
		for _, row := range t.Rows {
			rows = append(rows, row.Cells)
			counted[[3]string(row.Cells)] = true
		}
	}
	rows = append(rows, residueOf(slices.DeleteFunc(slices.Clone(records), func(r *evidence.Record) bool {
		return counted[[3]string{r.Term, r.Lab, r.Date}]
	}))...)
	slices.SortStableFunc(rows, func(a, b []string) int {
		return cmp.Or(cmp.Compare(a[2], b[2]), cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]), cmp.Compare(a[4], b[4]))
	})
	return tabular.Encode(append([][]string{residueHead}, rows...), true), nil
}

// residueOf counts the records.
func residueOf(records []*evidence.Record) [][]string {
	type cell struct{ term, lab, date, pack, competency string }
	type count struct {
		students map[string]bool
		n, met   int
	}
	counts := map[cell]*count{}
	var order []cell
	for _, r := range records {
		for _, e := range r.Students {
			for _, x := range e.Evidence {
				at := cell{r.Term, r.Lab, r.Date, r.Pack, x.Competency}
				c := counts[at]
				if c == nil {
					c = &count{students: map[string]bool{}}
					counts[at], order = c, append(order, at)
				}
				c.students[e.Student] = true
				c.n++
				if x.Met {
					c.met++
				}
			}
		}
	}
	var rows [][]string
	for _, at := range order {
		c := counts[at]
		students, n, met := strconv.Itoa(len(c.students)), strconv.Itoa(c.n), strconv.Itoa(c.met)
		if len(c.students) < leastCell {
			students, n, met = fmt.Sprintf("<%d", leastCell), "", ""
		}
		if c.met < leastCell || c.n-c.met < leastCell {
			met = ""
		}
		rows = append(rows, []string{at.term, at.lab, at.date, at.pack, at.competency, students, n, met})
	}
	return rows
}
