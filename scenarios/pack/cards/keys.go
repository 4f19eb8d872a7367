package cards

import "slices"

// KeyPosition is a position of the ignition switch, a bit so that a switch's closed positions make a set.
type KeyPosition uint8

// The key positions.
const (
	KeyOff KeyPosition = 1 << iota
	KeyRun
	KeyCrank
)

// keys are the positions by name.
var keys = []struct {
	name string
	key  KeyPosition
}{{"off", KeyOff}, {"run", KeyRun}, {"crank", KeyCrank}}

// KeyNames gives the names of the positions.
func KeyNames() []string {
	list := make([]string, len(keys))
	for i, k := range keys {
		list[i] = k.name
	}
	return list
}

// KeyByName finds a position; 0 when there is none.
func KeyByName(name string) KeyPosition {
	i := slices.Index(KeyNames(), name)
	if i < 0 {
		return 0
	}
	return keys[i].key
}
