package content

import "strings"

// Cautions are the warnings that stand on every sheet: all of them, or the short form.
type Cautions struct{ All bool }

func (Cautions) block() {}

// The words of the cautions. They say the usual things in our own words and give no figures, because the vehicle
// maker's service information has them and comes first.
const (
	CautionsTitle = "Cautions"
	CautionsLead  = "This lab is worked on paper. Whoever repeats any part of it on a real vehicle needs all of this:"
	CautionsFirst = "**These come first**, before anything printed here: local codes, the school’s shop-safety " +
		"rules, the vehicle maker’s service information and the supervising instructor. Work on a real vehicle " +
		"is for people trained and licensed for it."
	CautionsShort = "**Secondary voltage can injure or kill; keep pacemakers away.** Mind rotating parts while " +
		"cranking, hot parts and fuel vapor; disable the fuel. Eye protection on, wheels chocked, neutral or " +
		"park, parking brake set. Local codes, the school’s shop-safety rules, the vehicle maker’s service " +
		"information and the supervising instructor come first; work on a real vehicle is for people trained and " +
		"licensed for it."
)

// CautionsList gives the cautions one by one.
func CautionsList() []string {
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
		return []string{CautionsShort}
	}
	return append(append([]string{"**" + CautionsTitle + "**", CautionsLead}, CautionsList()...), CautionsFirst)
}

// Plain is a text without the marks of stress.
func Plain(text string) string { return strings.ReplaceAll(text, "**", "") }
