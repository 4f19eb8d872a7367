package outcomes

import (
	"cmp"
	"slices"

	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/grading/statistics"
)

// FaultFit tells how often a hidden fault was found, over all labs and sections: a fault that nobody finds is a
// question to the pack, not to the students.
type FaultFit struct {
	Pack, Fault string // Fault is the label; of records that had none the id
	N           int
	Met         int
	Found       statistics.Interval // NaN below LeastN
}

// FaultsOf lists the faults that were worked on, those first that were found least often.
func FaultsOf(t *competency.Term) []FaultFit {
	of := map[[2]string]*FaultFit{}
	var list []*FaultFit
	t.Worked(func(r *evidence.Record, e *evidence.Entry) {
		key := [2]string{r.Pack, e.Fault}
		f := of[key]
		if f == nil {
			f = &FaultFit{Pack: r.Pack, Fault: e.Fault}
			of[key] = f
			list = append(list, f)
		}
		f.Fault = cmp.Or(e.Label, f.Fault)
		f.N++
		if e.Right {
			f.Met++
		}
	})
	for _, f := range list {
		f.Found = statistics.Wilson(0, 0)
		if f.N >= LeastN {
			f.Found = statistics.Wilson(f.Met, f.N)
		}
	}
	slices.SortFunc(list, func(a, b *FaultFit) int {
		few := func(f *FaultFit) int { // what says nothing comes last
			if f.N < LeastN {
				return 1
			}
			return 0
		}
		return cmp.Or(cmp.Compare(few(a), few(b)), cmp.Compare(a.Met*b.N, b.Met*a.N), cmp.Compare(b.N, a.N),
			cmp.Compare(a.Pack, b.Pack), cmp.Compare(a.Fault, b.Fault))
	})
	found := make([]FaultFit, len(list))
	for i, f := range list {
		found[i] = *f
	}
	return found
}
