package pack

import (
	"embed"
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/spelling"
)

//go:embed builtin/*.toml
var builtin embed.FS

// Builtin gives the names of the packs that come with the program, sorted.
func Builtin() []string {
	entries, err := builtin.ReadDir("builtin")
	if err != nil {
		panic("pack: " + err.Error())
	}
	list := make([]string, len(entries))
	for i, e := range entries {
		list[i] = strings.TrimSuffix(e.Name(), ".toml")
	}
	slices.Sort(list)
	return list
}

// Source gives the text of a built-in pack. An unknown name is an error with the nearest known one.
func Source(name string) ([]byte, error) {
	if !slices.Contains(Builtin(), name) {
		return nil, fmt.Errorf("there is no built-in pack %q; %s", name, spelling.Suggest(name, Builtin()))
	}
	data, err := builtin.ReadFile("builtin/" + name + ".toml")
	if err != nil {
		panic("pack: " + err.Error())
	}
	return data, nil
}

// Load reads a built-in pack.
func Load(name string) (*Pack, error) {
	data, err := Source(name)
	if err != nil {
		return nil, err
	}
	return Parse(name+".toml", data)
}
