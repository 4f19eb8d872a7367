package handouts

import (
	"fmt"
	"strconv"
	"strings"

	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// Known are the readings that the work order gives, one sentence each. They are classes of readings with their
// limits: somebody has looked, and has not written down the figure.
func Known(w handout.Worksheet) []string {
	var list []string
	for _, k := range w.Known {
		list = append(list, k.Test+": **"+k.Reading+"**")
	}
	return list
}

// KnownNote leads in what was measured before.
const KnownNote = "Known"

// Odometer is the mileage of the work order, "" for none.
func Odometer(w handout.Worksheet) string {
	if w.Mileage == 0 {
		return ""
	}
	return "odometer " + thousands(w.Mileage)
}

// Temperatures are those of the sensors' places on the day, "" for a vehicle without such sensors.
func Temperatures(h handout.Handout) string {
	var list []string
	for _, s := range h.Reference.Sensors {
		list = append(list, s.Today...)
	}
	return strings.Join(list, ", ")
}

// Arrived is what the work order tells beside the vehicle: the temperatures, and the mileage of a sheet.
func Arrived(h handout.Handout, w handout.Worksheet) string {
	return wording.Join("; ", Temperatures(h), Odometer(w))
}

func thousands(n int) string {
	if n < 1000 {
		return strconv.Itoa(n)
	}
	return fmt.Sprintf("%s,%03d", thousands(n/1000), n%1000)
}

// Proven says when a repair may be concluded, and whether nothing may be wrong.
func Proven(h handout.Handout) string {
	text := "A repair is proven when nothing else on the list fits and its own checks, in the booklet, are made."
	if h.Closed {
		text = "The list of repairs is complete: stop when one repair is left. No repair needs checks of its own today."
	}
	if h.Nothing {
		text += " A vehicle with nothing wrong is possible today."
	}
	return text
}
