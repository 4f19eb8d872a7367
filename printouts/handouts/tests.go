package handouts

import (
	"strings"

	"nospark/printouts/wording"
	"nospark/scenarios/handout"
)

// Runs gathers the rows of the same instrument and condition, in the order in which these come first.
func Runs(rows []handout.SmallRow) [][]handout.SmallRow {
	var all [][]handout.SmallRow
next:
	for _, r := range rows {
		for i, run := range all {
			if run[0].Meter == r.Meter && run[0].Condition == r.Condition {
				all[i] = append(run, r)
				continue next
			}
		}
		all = append(all, []handout.SmallRow{r})
	}
	return all
}

// RunName names what the rows of a run share beyond what the whole table shares; "" where a line of its own would
// not pay. It pays for two rows when one of them would wrap otherwise.
func RunName(run []handout.SmallRow, meter, when string, wraps bool) string {
	if len(run) < 3 && !(len(run) == 2 && wraps) {
		return ""
	}
	runMeter, runWhen := Shared(run)
	if meter != "" {
		runMeter = ""
	}
	if when != "" {
		runWhen = ""
	}
	return wording.Join(", ", runMeter, runWhen)
}

// Shared gives the instrument and the condition that all rows have in common.
func Shared(rows []handout.SmallRow) (meter, when string) {
	if len(rows) < 2 {
		return "", ""
	}
	meter, when = rows[0].Meter, rows[0].Condition
	for _, r := range rows {
		if r.Meter != meter {
			meter = ""
		}
		if r.Condition != when {
			when = ""
		}
	}
	return meter, when
}

// TestText names a test, with its instrument and condition unless a heading or its own name says them.
func TestText(r handout.SmallRow, meter, when string) string {
	if meter == "" {
		meter = unsaidMeter(r.Label, r.Meter)
	} else {
		r.Label, meter = withoutMeter(r.Label, meter), ""
	}
	if when == "" {
		when = unsaid(r.Label, r.Condition)
	} else {
		r.Label, when = strings.TrimSuffix(r.Label, ", "+when), ""
	}
	return wording.Join("; ", r.Label, wording.Join(", ", meter, when))
}

// unsaid gives the word unless the text says it already.
func unsaid(text, word string) string {
	if strings.Contains(strings.ToLower(text), strings.ToLower(word)) {
		return ""
	}
	return word
}

// unsaidMeter gives the words of an instrument that the text does not say already: "scan tool" of "scan tool,
// engine speed" beside "Engine speed".
func unsaidMeter(text, meter string) string {
	var words []string
	for _, word := range strings.Split(meter, ", ") {
		words = append(words, unsaid(text, word))
	}
	return wording.Join(", ", words...)
}

// withoutMeter takes the instrument out of a test's name below a heading that names it: "volts, battery + to its
// ground pin".
func withoutMeter(text, meter string) string {
	word := meter
	switch meter {
	case "voltmeter":
		word = "volts"
	case "ohmmeter":
		word = "ohms"
	}
	before, after, found := strings.Cut(text, ": "+word+", ")
	if !found {
		return text
	}
	return before + ": " + after
}

// TableNote names the instrument and condition that all tests of a table share, unless its heading says them.
func TableNote(t handout.SmallTable) string {
	meter, when := Shared(t.Rows)
	return wording.Join(", ", unsaid(t.Heading, meter), unsaid(t.Heading, when))
}
