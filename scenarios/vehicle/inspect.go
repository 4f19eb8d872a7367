package vehicle

import "nospark/scenarios/circuit"

// Floating lists the nodes that no part joins with the reference in a condition in which every part has its supply, by
// their ids; of nodes within a part, the names of its elements.
func (v *Vehicle) Floating(condition int) []string {
	on := awake{part: make([]bool, len(v.values)), active: make([]bool, len(v.values)),
		channel: make([]bool, len(v.l.channels))}
	for k := range on.part {
		on.part[k] = true
	}
	var w wiring
	v.decode()
	v.build(&setup{condition: condition}, &on, phase{high: true, channel: -1}, &w)
	return v.pool.net.Floating(circuit.Reference)
}

// Currents gives the current in each part in a condition, coils at rest, amperes; nil when the circuit cannot be
// solved.
func (v *Vehicle) Currents(condition int) []float64 {
	st := v.plain(condition)
	if st.high == nil {
		return nil
	}
	amps := make([]float64, len(v.values))
	for i := range amps {
		amps[i] = st.high.through(i)
	}
	return amps
}

// Blown tells which parts are fuses that have blown.
func (v *Vehicle) Blown() []bool {
	v.blowFuses()
	return v.blown
}

// Err is the first circuit that could not be solved, nil when all could.
func (v *Vehicle) Err() error { return v.err }

// BandAmong is the band of a test among what all tests show.
func (v *Vehicle) BandAmong(test int, shown []Shown) uint8 { return v.l.band(test, shown) }

// ComplaintOf is what the customer reports of a vehicle whose tests read these bands: the first rule of the pack that
// fits, -1 for none.
func (v *Vehicle) ComplaintOf(bands []uint8) int {
	return v.complaint(func() bool { return v.l.abnormal(bands) })
}
