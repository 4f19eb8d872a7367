package pack_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// The manual names every table, key, role, observable and warning that a pack can have.
func TestManualNamesEverything(t *testing.T) {
	text, err := os.ReadFile("PACKS.md")
	if err != nil {
		t.Fatal(err)
	}
	words := strings.FieldsFunc(string(text), func(r rune) bool {
		return strings.ContainsRune(" \n*|`[]{}()\",.;:=?",
			r)
	})
	check := func(what, word string) {
		t.Helper()
		if !slices.Contains(words, word) {
			t.Errorf("PACKS.md lacks the %s %q", what, word)
		}
	}
	var all map[string]any
	if err := toml.Unmarshal(every(t), &all); err != nil {
		t.Fatal(err)
	}
	for table, value := range all {
		check("table or key", table)
		rows, _ := value.([]map[string]any)
		for _, row := range rows {
			kind := cards.KindByName(fmt.Sprint(row["kind"]))
			for key := range row {
				if kind == nil || kind.Param(key) < 0 { // parameters stand on the cards
					check("key of "+table, key)
				}
			}
		}
	}
	for _, role := range pack.Roles {
		check("role", string(role))
	}
	for _, o := range pack.Observables {
		check("observable", o.Name)
	}
	for _, o := range oddities {
		code, _, _ := strings.Cut(o.want, ":")
		check("warning", code)
	}
}
