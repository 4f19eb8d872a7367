package wording

import "nospark/scenarios/lab"

// Repair is a repair with its code as students write it.
func Repair(r lab.Repair) string { return r.Label + " (" + r.Code + r.Letters + ")" }
