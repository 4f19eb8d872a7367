package build

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"nospark/scenarios/lab"
)

func TestHolders(t *testing.T) {
	check := func(sections string, want ...int) {
		t.Helper()
		var list []person
		for i, s := range sections {
			list = append(list, person{id: fmt.Sprint(i), section: string(s), spare: s == '.'})
		}
		if got := holders(list, nil); !slices.Equal(got, want) {
			t.Errorf("%s: held by %v, want %v", sections, got, want)
		}
	}
	check("AA", 1, 0)
	check("AAAA", 1, 0, 3, 2)
	check("AAA", 1, 2, 0)
	check("AAAAA", 1, 0, 3, 4, 2)
	check("A", -1)
	check("AAB", 1, 0, -1)
	check("ABAB", 2, 3, 0, 1)
	check("AABB..", 1, 0, 3, 2, -1, -1)
}

// TestHoldersOnAGrid: nobody holds their own readings, nobody two sheets, and partners sit side by side, also where a
// row ends.
func TestHoldersOnAGrid(t *testing.T) {
	for n := 2; n < 40; n++ {
		list, seats := grid(n)
		slices.Reverse(list)
		seen := map[int]bool{}
		for i, holder := range holders(list, seats) {
			if holder < 0 || holder == i || seen[holder] {
				t.Fatalf("%d students: %d is held by %d", n, i, holder)
			}
			seen[holder] = true
			a, b := seats[list[i].id], seats[list[holder].id]
			if n%5 == 0 && n%2 == 0 && max(a.Row-b.Row, b.Row-a.Row, a.Column-b.Column, b.Column-a.Column) > 1 {
				t.Errorf("%d students: partners at %v and %v", n, a, b)
			}
		}
	}
	// Who has no seat comes after those who have one.
	list, seats := grid(4)
	delete(seats, "0")
	if got := holders(list, seats); !slices.Equal(got, []int{1, 0, 3, 2}) {
		t.Errorf("one without a seat: held by %v", got)
	}
}

// TestPartnersStay: latecomers change nothing for those who have their slips.
func TestPartnersStay(t *testing.T) {
	in := input(t, twoLamps(t), "spares = 1", 5)
	first, _ := build(t, in)
	in.Previous, in.Students = first, class(6)
	second, _ := build(t, in)
	if !slices.Equal(first.Holders(), second.Holders()[:6]) || second.Holders()[6] != "" {
		t.Errorf("held by %v, then by %v: a latecomer has the instructor", first.Holders(), second.Holders())
	}
	in.Students = class(8)
	third, _ := build(t, in)
	if held := third.Holders(); !slices.Equal(first.Holders(), held[:6]) || held[6] != third.Sheets[7].Code ||
		held[7] != third.Sheets[8].Code || held[8] != third.Sheets[6].Code {
		t.Errorf("three latecomers: %v", held)
	}
}

// TestHoldersOfVersionOne: labs that do not say who holds what go by the order of their sheets.
func TestHoldersOfVersionOne(t *testing.T) {
	data, err := os.ReadFile("testdata/lab-v1.json")
	if err != nil {
		t.Fatal(err)
	}
	l, err := lab.Decode("lab.json", data)
	if err != nil {
		t.Fatal(err)
	}
	if held := l.Holders(); held[0] != l.Sheets[1].Code || held[3] != "" {
		t.Errorf("held by %v", held)
	}
}
