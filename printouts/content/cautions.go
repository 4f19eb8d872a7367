package content

import (
	"strings"

	"nospark/scenarios/lab"
)

// Cautions are the warnings that stand on every sheet: all of them, or the short form. What the vehicle has is warned
// of; the zero value warns of everything.
type Cautions struct {
	All   bool
	Lacks lab.Lacks
}

func (Cautions) block() {}

// The words of the cautions. They say the usual things in our own words and give no figures, because the vehicle
// maker's service information has them and comes first.
const (
	CautionsTitle = "Cautions"
	CautionsLead  = "This lab is worked on paper. Whoever repeats any part of it on a real vehicle needs all of this:"
	CautionsFirst = "**These come first**, before anything printed here: local codes, the school’s shop-safety " +
		"rules, the vehicle maker’s service information and the supervising instructor. Work on a real vehicle " +
		"is for people trained and licensed for it."
	CautionsShort = shortSecondary + shortEngine + shortParked + shortFirst
)

// Parts of the short form.
const (
	shortBattery = "**A short circuit burns skin and starts fires; take off rings and watches.** A battery gives off " +
		"gas that explodes: no sparks or flames near it. "
	shortSecondary = "**Secondary voltage can injure or kill; keep pacemakers away.** "
	shortEngine    = "Mind rotating parts while cranking, hot parts and fuel vapor; disable the fuel. "
	shortParked    = "Eye protection on, wheels chocked, neutral or park, parking brake set. "
	shortStill     = "Mind hot lamps, parts and wires. Eye protection on. "
	shortFirst     = "Local codes, the school’s shop-safety rules, the vehicle maker’s service information and the " +
		"supervising instructor come first; work on a real vehicle is for people trained and licensed for it."
)

// Short is the short form, in a few lines.
func (c Cautions) Short() string {
	text := ""
	if c.Lacks == (lab.Lacks{}) {
		return CautionsShort
	}
	if !c.Lacks.Secondary {
		text += shortSecondary
	}
	text += shortBattery
	if c.Lacks.Engine {
		return text + shortStill + shortFirst
	}
	return text + shortEngine + shortParked + shortFirst
}

// List gives the cautions one by one.
func (c Cautions) List() (list []string) {
	all := everyCaution()
	if c.Lacks != (lab.Lacks{}) {
		list = append(list, "**Batteries and short circuits.** A short circuit burns skin and starts fires, and a battery "+
			"gives off gas that explodes. Take off rings and watches, keep sparks and flames away, and have an "+
			"extinguisher within reach.")
	}
	if !c.Lacks.Secondary {
		list = append(list, all[0])
	}
	if !c.Lacks.Engine {
		return append(list, all[1:]...)
	}
	return append(list, all[3], "**Hot parts.** Lamps, and whatever carries too much current, burn skin.")
}

// everyCaution are those of an ignition system.
func everyCaution() []string {
	return []string{
		"**Secondary voltage can injure or kill.** Touch no coil, lead or plug while the ignition can fire. " +
			"Whoever wears a pacemaker or another implanted device stays away from a working ignition.",
		"**Rotating parts.** While the engine cranks or runs, keep hands, hair, clothing and test leads clear of " +
			"belts, pulleys and fans; a fan can start on its own.",
		"**Fuel vapor burns.** Disable the fuel supply before cranking or testing for spark, let in fresh air, " +
			"and have an extinguisher within reach.",
		"**Eye protection** stays on from the first step to the last.",
		"**Hot parts.** Exhaust, coolant, coils and modules burn skin long after the engine has stopped.",
		"**The vehicle must not move.** Chock the wheels, select neutral or park and set the parking brake " +
			"before anyone cranks.",
	}
}

// Words are the paragraphs of the cautions, in their order.
func (c Cautions) Words() []string {
	if !c.All {
		return []string{c.Short()}
	}
	return append(append([]string{"**" + CautionsTitle + "**", CautionsLead}, c.List()...), CautionsFirst)
}

// Plain is a text without the marks of stress.
func Plain(text string) string { return strings.ReplaceAll(text, "**", "") }
