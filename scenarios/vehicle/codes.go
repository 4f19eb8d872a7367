package vehicle

import (
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// Shares of the reference below and above which a controller takes a sensor's input for shorted or open. From memory;
// thresholds of 0.1 to 0.2 V and 4.8 to 4.9 V are usual.
const (
	inputLowShare  = 0.03
	inputHighShare = 0.97
)

// remembered is the first trouble code of the vehicle. What came and went has left its code too; the freeze frame then
// tells in which state of the engine that was.
func (v *Vehicle) remembered() string {
	code := v.trouble()
	for _, when := range pack.Provocations {
		w := v.under(when)
		if code != cards.NoCode || w == v {
			continue
		}
		switch code = w.trouble(); {
		case code == cards.CrankCranking && when == pack.Hot:
			code = cards.CrankHot
		case code == cards.CrankCranking:
			code = cards.CrankIdle
		}
	}
	return code
}

// trouble is the first code that a controller sets of what is always there: of its crank signal, when the starter turns
// the engine and it has supply and no signal, or one with pulses missing; of its temperature inputs with the key on.
// Misfires it counts apart.
func (v *Vehicle) trouble() string {
	v.blowFuses()
	c := v.dev.control
	for i, cond := range v.l.p.Conditions {
		st := v.plain(i)
		switch {
		case c == nil || !cond.Cranking() || cond.Provoke != "" || st.rpm == 0 || !st.on.part[c.part]:
		case !st.sees(c):
			return cards.CrankCranking
		case v.loses():
			return cards.CrankUneven
		}
	}
	for i, cond := range v.l.p.Conditions {
		if c == nil || cond.Key != cards.KeyRun || cond.Provoke != "" || cond.Running() || !v.plain(i).on.part[c.part] {
			continue
		}
		st := v.plain(i)
		if c.ect >= 0 {
			switch share := st.volts(c.ect, c.ground) / c.refVolts; {
			case share < inputLowShare:
				return cards.CoolantLow
			case share > inputHighShare:
				return cards.CoolantHigh
			}
		}
		if c.iat >= 0 {
			switch share := st.volts(c.iat, c.ground) / c.refVolts; {
			case share < inputLowShare:
				return cards.AirLow
			case share > inputHighShare:
				return cards.AirHigh
			}
		}
	}
	return cards.NoCode
}
