package isolation

import (
	"maps"
	"slices"
	"testing"
)

// Every operation on sets agrees with the same operation on maps, in all four words.
func TestSetAgreesWithMaps(t *testing.T) {
	r := source(5)
	draw := func() (Set, map[int]bool) {
		s, m := Set{}, map[int]bool{}
		for range r.IntN(60) {
			h := r.IntN(MaxHypotheses)
			s = s.With(h)
			m[h] = true
		}
		return s, m
	}
	check := func(name string, got Set, want func(h int) bool) {
		t.Helper()
		for h := range MaxHypotheses {
			if got.Has(h) != want(h) {
				t.Fatalf("%s: member %d is %v", name, h, got.Has(h))
			}
		}
	}
	for range 200 {
		a, inA := draw()
		b, inB := draw()
		h := r.IntN(MaxHypotheses)
		check("With", a, func(h int) bool { return inA[h] })
		check("Without", a.Without(h), func(g int) bool { return inA[g] && g != h })
		check("Union", a.Union(b), func(h int) bool { return inA[h] || inB[h] })
		check("Intersect", a.Intersect(b), func(h int) bool { return inA[h] && inB[h] })
		check("Minus", a.Minus(b), func(h int) bool { return inA[h] && !inB[h] })
		members := slices.Sorted(maps.Keys(inA))
		if got := slices.Collect(a.All()); !slices.Equal(got, members) {
			t.Fatalf("All yields %v, want %v", got, members)
		}
		if SetOf(members...) != a || a.Len() != len(inA) || a.Empty() != (len(inA) == 0) {
			t.Fatalf("%v: built %v, length %d, empty %v", members, SetOf(members...), a.Len(), a.Empty())
		}
		if first := append(members, -1)[0]; a.First() != first {
			t.Fatalf("first of %v is %d", members, a.First())
		}
		if a.Within(b) != a.Minus(b).Empty() || !a.Intersect(b).Within(b) {
			t.Fatalf("%v within %v is %v", members, inB, a.Within(b))
		}
	}
	for h := range SetOf(3, 200).All() {
		if h != 3 {
			t.Fatal("All goes on after a break")
		}
		break
	}
}
