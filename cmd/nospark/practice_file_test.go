package main

import (
	"bytes"
	"context"
	"slices"
	"sync"
	"testing"

	"nospark/cmd/internal/practice"
	"nospark/cmd/internal/practicefile"
	"nospark/scenarios/pack"
	"nospark/scenarios/testrun"
)

// practiceProgramOnce compiles the program for browsers once for all tests.
var practiceProgramOnce = sync.OnceValues(func() (practicefile.Program, error) {
	return practiceProgram(context.Background())
})

// practiceShelvesOnce works packs out once for all tests, which takes long: all of them in a whole run, otherwise two
// small ones and the one that takes up most of a file.
var practiceShelvesOnce = sync.OnceValues(func() ([]*practice.Shelf, error) {
	packs := []string{"lamp", "horn", "single-coil"}
	if testrun.Whole() {
		packs = pack.Builtin()
	}
	return stockShelves(context.Background(), packs, func(int, int) {})
})

// shelved picks some of these packs.
func shelved(t *testing.T, packs ...string) []*practice.Shelf {
	t.Helper()
	all, err := practiceShelvesOnce()
	if err != nil {
		t.Fatal(err)
	}
	var some []*practice.Shelf
	for _, s := range all {
		if slices.Contains(packs, s.Offer.Pack) {
			some = append(some, s)
		}
	}
	return some
}

// practiceFile is the file of some of these packs.
func practiceFile(t *testing.T, packs ...string) []byte {
	t.Helper()
	program, err := practiceProgramOnce()
	if err != nil {
		t.Fatal(err)
	}
	data, err := practicefile.Make(program, shelved(t, packs...))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestPracticeFileIsSmallAndTheSame: at most 4 MB with every pack that comes with the program, where a sample takes
// each pack that it leaves out for as large as the largest it has; and the same source gives the same bytes.
func TestPracticeFileIsSmallAndTheSame(t *testing.T) {
	testrun.Long(t, "works out a large pack")
	size := len(practiceFile(t, pack.Builtin()...))
	if left := len(pack.Builtin()) - len(shelved(t, pack.Builtin()...)); left > 0 {
		most := 0
		none := len(practiceFile(t))
		for _, name := range pack.Builtin() {
			most = max(most, len(practiceFile(t, name))-none)
		}
		t.Logf("a sample, %d packs taken for %d bytes each; NOSPARK_WHOLE=1 takes all packs", left, most)
		size += left * most
	}
	t.Logf("%d bytes with all packs", size)
	if size > 4_000_000 {
		t.Errorf("the file with all packs has %d bytes, at most 4,000,000", size)
	}
	program, err := practiceProgram(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	shelves, err := stockShelves(t.Context(), []string{"lamp", "horn"}, func(int, int) {})
	if err != nil {
		t.Fatal(err)
	}
	again, err := practicefile.Make(program, shelves)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(practiceFile(t, "lamp", "horn"), again) {
		t.Error("the same source gave different bytes")
	}
}
