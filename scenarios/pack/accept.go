package pack

import (
	"fmt"
	"slices"

	"nospark/scenarios/strict"
)

func (r *reader) readAccepts(top *strict.Table) {
	seen := map[string]int{}
	for _, t := range r.list(top, "accept", 0, 500) {
		a := Accept{Warning: t.Text("warning"), Because: t.Text("because"), Line: t.Line("")}
		if first, again := seen[a.Warning]; again {
			t.Fail("warning", "", "warning %q is accepted in line %d already", a.Warning, first)
		}
		seen[a.Warning] = a.Line
		r.pack.Accepts = append(r.pack.Accepts, a)
		t.Finish()
	}
}

// Settle marks the warnings that the pack accepts and adds one for each acceptance that nothing needs any more.
// Give it the warnings of all checks together. A pack is clean when no finding is left without Because.
func (p *Pack) Settle(findings []strict.Finding) []strict.Finding {
	settled := slices.Clone(findings)
	for _, a := range p.Accepts {
		found := false
		for i := range settled {
			if f := &settled[i]; f.Severity == strict.Warning && f.Name() == a.Warning {
				f.Because = a.Because
				found = true
			}
		}
		if !found {
			settled = append(settled, strict.Finding{Line: a.Line, Code: "accept-unused", Subject: a.Warning,
				What: fmt.Sprintf("the accepted warning %q does not occur", a.Warning), Do: "take the [[accept]] out"})
		}
	}
	strict.ByLine(settled)
	return settled
}
