package page

import (
	"strings"

	"nospark/printouts/page/typeset"
	"nospark/printouts/vector"
)

// The cautions of every sheet. They say the usual things in our own words and give no figures, because the vehicle
// maker's service information has them and comes first.
const (
	cautionsTitle = "Cautions"
	cautionsLead  = "This lab is worked on paper. Whoever repeats any part of it on a real vehicle needs all of this:"
	cautionsFirst = "**These come first**, before anything printed here: local codes, the school’s shop-safety " +
		"rules, the vehicle maker’s service information and the supervising instructor. Work on a real vehicle is " +
		"for people trained and licensed for it."
	cautionsShort = "**Secondary voltage can injure or kill; keep pacemakers away.** Mind rotating parts while " +
		"cranking, hot parts and fuel vapour; disable the fuel. Eye protection on, wheels chocked, neutral or park, " +
		"parking brake set. Local codes, the school’s shop-safety rules, the vehicle maker’s service information and " +
		"the supervising instructor come first; work on a real vehicle is for people trained and licensed for it."
)

// cautionsList gives the cautions one by one.
func cautionsList() []string {
	return []string{
		"**Secondary voltage can injure or kill.** Touch no coil, lead or plug while the ignition can fire. Whoever " +
			"wears a pacemaker or another implanted device stays away from a working ignition.",
		"**Rotating parts.** While the engine cranks or runs, keep hands, hair, clothing and test leads clear of " +
			"belts, pulleys and fans; a fan can start on its own.",
		"**Fuel vapour burns.** Disable the fuel supply before cranking or testing for spark, let in fresh air, and " +
			"have an extinguisher within reach.",
		"**Eye protection** stays on from the first step to the last.",
		"**Hot parts.** Exhaust, coolant, coils and modules burn skin long after the engine has stopped.",
		"**The vehicle must not move.** Chock the wheels, select neutral or park and set the parking brake before " +
			"anyone cranks.",
	}
}

// Cautions adds the box with all cautions. It belongs on the class reference.
func (f *Flow) Cautions() {
	small := Style{Size: f.Sizes.Small}
	f.warning(func() {
		f.ParaIn("**"+cautionsTitle+"**", Style{Size: f.Sizes.Lead})
		f.ParaIn(cautionsLead, small)
		for _, text := range cautionsList() {
			f.ParaIn(text, small)
		}
		f.gap += 0.2 * f.lineHeight()
		f.ParaIn(cautionsFirst, small)
	})
}

// CautionsShort adds the cautions in a few lines. It belongs on every other sheet.
func (f *Flow) CautionsShort() {
	f.warning(func() { f.ParaIn(cautionsShort, Style{Size: f.Sizes.Small}) })
}

// shortCautions is the text of the box that [ShortCautions] draws: as small as may be printed, for sheets with little
// room.
func shortCautions(t *typeset.Setter, width float64) Paragraph {
	return t.Set(width-3*shortPad-shortSign, cautionsShort, Style{Size: typeset.Smallest, Condensed: true})
}

// Measures of that box, mm.
const (
	shortPad  = 1.6
	shortSign = 10.5
)

// ShortCautionsHeight is the height of the box that [ShortCautions] draws in a given width, mm.
func ShortCautionsHeight(f *Flow, width float64) float64 {
	return max(shortCautions(f.Setter, width).H, shortSign*0.9) + 2*shortPad
}

// ShortCautions fills the canvas with the box of the short cautions, for sheets whose parts have fixed places.
func ShortCautions(c Canvas) {
	p := shortCautions(c.Setter, c.W)
	c.RoundRect(0, 0, c.W, c.H, 1.2, Pen{Line: Black, Width: 0.45})
	triangle(c.Part(shortPad, (c.H-shortSign*0.9)/2, shortSign, shortSign*0.9))
	c.Paragraph(2*shortPad+shortSign, (c.H-p.H)/2, p)
}

// ShortCautionsText is the short cautions as plain text, for files that are not printed.
func ShortCautionsText() string { return strings.ReplaceAll(cautionsShort, "**", "") }

// warning adds a box with a warning triangle at its left.
func (f *Flow) warning(build func()) {
	pad, sign := 0.5*f.lineHeight(), 2.2*f.lineHeight()
	f.frameUnits(f.gather(f.W-3*pad-sign, build), box{
		pen: Pen{Line: Black, Width: 0.45}, pad: pad, indent: 2*pad + sign, least: sign,
		sign: func(c Canvas) { triangle(c.Part(pad, pad, sign, sign*0.9)) },
	})
}

// triangle draws a warning sign that fills the canvas.
func triangle(c Canvas) {
	thick := c.W * 0.085
	c.Polygon(Pen{Line: Black, Width: thick, Fill: White},
		vector.At(c.W/2, thick/2), vector.At(c.W-thick/2, c.H-thick/2), vector.At(thick/2, c.H-thick/2))
	bar := c.W * 0.055
	c.Polygon(Fill(Black), vector.At(c.W/2-bar, c.H*0.33), vector.At(c.W/2+bar, c.H*0.33),
		vector.At(c.W/2+bar*0.6, c.H*0.67), vector.At(c.W/2-bar*0.6, c.H*0.67))
	c.Circle(c.W/2, c.H*0.79, bar, Fill(Black))
}
