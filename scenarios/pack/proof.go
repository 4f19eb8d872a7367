package pack

import (
	"slices"
	"strings"

	"nospark/scenarios/spelling"
)

// Proof is what a pack changes about the checks that follow from a repair's parts, wiring and simulation: it adds one,
// or takes some away and says why.
type Proof struct {
	What    string // of Whats
	Part    int    // index into Parts; -1: the part of the fault when it adds, all of them when it takes away
	Tests   []int  // any one of them makes the check
	Because string // why it is not owed; "" for a check that is added
	Line    int
}

// Whats are the kinds of checks. A part is bad when its feed, ground, reference voltage and inputs are good and its
// output or its own test is not; a path when one end is good and a reading on it is not; nothing is wrong when the
// results that the customer misses are there.
var Whats = []string{"feed", "ground", "reference voltage", "input", "output", "own test", "end", "path", "result"}

// awaited is a repair's proof, which waits until all tests are known.
type awaited struct {
	repair int
	tables []*table
}

// awaitProof remembers the proof of the repair that is read next.
func (r *reader) awaitProof(t *table) {
	tables := t.tables("proof")
	if t.has("proof") && len(tables) == 0 {
		t.fail("proof", `write proof = [{ what = "own test", tests = ["id"] }]`, "proof is empty")
	}
	r.proofs = append(r.proofs, awaited{len(r.pack.Repairs), tables})
}

func (r *reader) readProofs() {
	for _, a := range r.proofs {
		for _, t := range a.tables {
			p := Proof{What: t.oneOf("what", Whats), Part: t.ref("part", &r.parts), Line: t.place.Line}
			p.Tests, p.Because = r.testRefs(t, "tests"), t.textOr("because", "")
			const do = "give tests to add a check, or because to take one away"
			switch adds := t.has("tests"); {
			case !adds && p.Because == "":
				t.fail("what", do, "the proof neither adds a check nor takes one away")
			case adds && p.Because != "":
				t.fail("because", do, "because is given beside tests")
			}
			t.finish()
			r.pack.Repairs[a.repair].Proof = append(r.pack.Repairs[a.repair].Proof, p)
		}
	}
}

// testRefs reads a list of tests by their full ids.
func (r *reader) testRefs(t *table, key string) []int {
	ids, at := t.texts(key)
	known := make([]string, len(r.pack.Tests))
	for i := range known {
		known[i] = r.pack.Tests[i].ID
	}
	var found []int
	for i, id := range ids {
		switch k := slices.Index(known, id); {
		case k < 0 && len(r.errors) > 0 && strings.Contains(id, "."): // it may belong to a sweep that could not be expanded
		case k < 0:
			r.fail(at[i], spelling.Suggest(id, known), "%s: test %q is not declared", t.who, id)
		case slices.Contains(found, k):
			r.fail(at[i], "", "%s: %s names %q twice", t.who, key, id)
		default:
			found = append(found, k)
		}
	}
	if ids != nil && len(ids) == 0 {
		t.fail(key, "", "%s is empty", key)
	}
	slices.Sort(found)
	return found
}
