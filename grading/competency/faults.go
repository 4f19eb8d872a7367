package competency

import (
	"cmp"
	"slices"

	"nospark/grading/evidence"
	"nospark/grading/statistics"
)

// FaultFit tells how often a hidden fault was found, over all labs and sections: a fault that nobody finds is a
// question to the pack, not to the students.
type FaultFit struct {
	Pack, Fault string
	N           int
	Found       statistics.Interval // NaN below LeastN
}

// Faults lists the faults that were worked on, by pack and id.
func (t *Term) Faults() []FaultFit {
	type count struct{ found, n int }
	of := map[[2]string]*count{}
	var keys [][2]string
	t.worked(func(r *evidence.Record, e *evidence.Entry) {
		key := [2]string{r.Pack, e.Fault}
		if of[key] == nil {
			of[key] = new(count)
			keys = append(keys, key)
		}
		of[key].n++
		if e.Right {
			of[key].found++
		}
	})
	slices.SortFunc(keys, func(a, b [2]string) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	var list []FaultFit
	for _, key := range keys {
		f := FaultFit{Pack: key[0], Fault: key[1], N: of[key].n, Found: statistics.Wilson(0, 0)}
		if f.N >= LeastN {
			f.Found = statistics.Wilson(of[key].found, f.N)
		}
		list = append(list, f)
	}
	return list
}
