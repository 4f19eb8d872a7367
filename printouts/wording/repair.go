package wording

import "nospark/scenarios"

// Repair is a repair with its code as students write it.
func Repair(r scenarios.Repair) string { return r.Label + " (" + r.Code + r.Letters + ")" }
