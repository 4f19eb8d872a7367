package pack

import (
	"slices"
	"strings"

	"nospark/scenarios/spelling"
	"nospark/scenarios/strict"
)

// awaitProof remembers the proof of the repair that is read next.
func (r *reader) awaitProof(t *strict.Table) {
	tables := t.Tables("proof")
	if t.Has("proof") && len(tables) == 0 {
		t.Fail("proof", `write proof = [{ what = "own test", tests = ["id"] }]`, "proof is empty")
	}
	for _, proof := range tables {
		proof.Who = t.Who
	}
	r.proofs = append(r.proofs, awaited{len(r.pack.Repairs), tables})
}

func (r *reader) readProofs() {
	for _, a := range r.proofs {
		for _, t := range a.tables {
			p := Proof{What: t.Choice("what", Whats), Part: r.parts.ref(t, "part"), Because: t.TextOr("because", ""),
				Line: t.Line("")}
			p.Tests = r.testRefs(t, "tests")
			switch {
			case p.Tests == nil && !t.Has("tests") && p.Because == "":
				t.Fail("what", "give tests to add a check, or because to take one away",
					"the proof neither adds a check nor takes one away")
			case t.Has("tests") && p.Because != "":
				t.Fail("because", "give tests to add a check, or because to take one away",
					"because is given beside tests")
			}
			t.Finish()
			r.pack.Repairs[a.repair].Proof = append(r.pack.Repairs[a.repair].Proof, p)
		}
	}
}

// testRefs reads a list of tests by their full ids.
func (r *reader) testRefs(t *strict.Table, key string) []int {
	ids, at := t.Texts(key)
	known := make([]string, len(r.pack.Tests))
	for i := range known {
		known[i] = r.pack.Tests[i].ID
	}
	var found []int
	for i, id := range ids {
		switch k := slices.Index(known, id); {
		// it may belong to a sweep that could not be expanded
		case k < 0 && r.found.Errors() > 0 && strings.Contains(id, "."):
		case k < 0:
			t.FailAt(at[i], spelling.Suggest(id, known), "test %q is not declared", id)
		case slices.Contains(found, k):
			t.FailAt(at[i], "", "%s names %q twice", key, id)
		default:
			found = append(found, k)
		}
	}
	if ids != nil && len(ids) == 0 {
		t.Fail(key, "", "%s is empty", key)
	}
	slices.Sort(found)
	return found
}
