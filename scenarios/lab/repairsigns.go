package lab

import (
	"fmt"
	"slices"

	"nospark/scenarios/draw"
)

// MostRepairs is the most repairs of a pack: their codes have two digits and none begins with 0.
const MostRepairs = 90

// RepairSign is what students write for a repair: its code and the letters that show it was copied rightly.
type RepairSign struct{ Code, Letters string }

// RepairSigns gives the signs of a pack's repairs, at most [MostRepairs], for a whole term: they follow from the key,
// the pack and the id of each, so every lab of the term has the same, and the booklet needs to be printed once. Where
// two would have one code the later id takes the next free one.
func RepairSigns(pack string, ids []string, key []byte) []RepairSign {
	signs, taken := make([]RepairSign, len(ids)), map[int]bool{}
	for _, id := range slices.Sorted(slices.Values(ids)) {
		stream := draw.New(key, "pack", pack, "repair", id)
		code := stream.Intn(MostRepairs)
		for taken[code] {
			code = (code + 1) % MostRepairs
		}
		taken[code] = true
		signs[slices.Index(ids, id)] = RepairSign{fmt.Sprint(10 + code), stream.Letters(2)}
	}
	return signs
}
