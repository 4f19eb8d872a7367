package content

import (
	"math"
	"strings"
	"testing"

	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// Curves drawn by hand, and what can be read off them with a ruler.
func TestTraceWords(t *testing.T) {
	check := func(p handout.Plot, want string) {
		t.Helper()
		if got := strings.Join(TraceWords(p), " "); got != want {
			t.Errorf("%s\nsays %q,\nwant %q", p.Title, got, want)
		}
	}
	plot := func(title, unit string, from, to, per float64, xy ...float64) handout.Plot {
		p := handout.Plot{Title: title, XLabel: "ms", YLabel: unit, YFrom: from, YTo: to, YPerDivision: per}
		for i := 0; i < len(xy); i += 2 {
			p.X, p.Y = append(p.X, xy[i]), append(p.Y, xy[i+1])
		}
		return p
	}
	amps := func(title string, xy ...float64) handout.Plot {
		p := plot(title, "A", -2, 14, 2, xy...)
		p.XFrom, p.XTo, p.XPerDivision = -8, 4, 2
		return p
	}
	kilovolts := func(title string, xy ...float64) handout.Plot {
		p := plot(title, "kV", -10, 40, 10, xy...)
		p.XFrom, p.XTo, p.XPerDivision = -0.5, 2.5, 0.5
		return p
	}
	volts := func(title string, xy ...float64) handout.Plot {
		p := plot(title, "V", -2, 14, 2, xy...)
		p.XTo, p.XPerDivision = 400, 40
		return p
	}
	check(amps("ramp", -8, 0, -4, 0, 0, 8, 0, 0, 4, 0), "The current begins at -4 ms and rises at first by 2 A in a "+
		"millisecond. It reaches 8 A and breaks off at 0 ms, after 4 ms.")
	check(amps("limited", -8, 0, -6, 0, -4, 6, 0, 6, 0, 0, 4, 0), "The current begins at -6 ms and rises at first "+
		"by 3 A in a millisecond. From -4 ms on it stays level. It reaches 6 A and breaks off at 0 ms, after 6 ms.")
	check(amps("begun before", -8, 2, 0, 10, 0, 0, 4, 0), "At the left edge the current is 2 A already and rises by 1 A "+
		"in a millisecond. It reaches 10 A and breaks off at 0 ms.")
	check(amps("never off", -8, 2.44, 4, 2.44), "A flat line at 2.4 A.")
	check(amps("nothing", -8, 0, 4, 0), "A flat line at 0 A.")
	check(kilovolts("spark", -0.5, 0, 0, 0, 0.02, 12, 0.022, 2, 1.52, 1, 1.54, -3, 2.5, 0), "The firing line rises to "+
		"12 kV at 0.025 ms. A spark line follows, 1.5 kV high in its middle, and lasts 1.53 ms.")
	check(kilovolts("long spark", -0.5, 0, 0, 0, 0.02, 12, 0.022, 2, 2.5, 2), "The firing line rises to 12 kV at "+
		"0.025 ms. A spark line follows, 2 kV high in its middle, and goes on beyond the right edge.")
	check(kilovolts("no spark", -0.5, 0, 0, 0, 0.1, 45, 0.3, -15, 0.5, 0, 2.5, 0), "The firing line rises to more "+
		"than 40 kV at 0.1 ms. No spark line follows. The lowest voltage after it is less than -10 kV.")
	check(volts("square", 0, 5, 50, 5, 50, 0.2, 150, 0.2, 150, 5, 350, 5, 350, 0.2, 400, 0.2), "The signal changes "+
		"between 0.2 V and 5 V. Times it goes up in 400 ms: 1. It jumps between the two and is high for 62 % of the time. "+
		"It stays high for 200 ms at most and low for 100 ms at most.")
	wave := volts("wave")
	for i := range 401 {
		wave.X = append(wave.X, float64(i))
		wave.Y = append(wave.Y, 1.5*math.Sin(2*math.Pi*float64(i+13)/100))
	}
	check(wave, "The signal changes between -1.5 V and 1.5 V. Times it goes up in 400 ms: 4. It is a smooth wave. "+
		"One wave takes 100 ms; the next one comes after 100 ms at most.")
	primary := func(points ...float64) handout.Plot {
		p := plot(lab.PrimaryTitle, "V", -10, 60, 10, points...)
		p.XFrom, p.XTo, p.XPerDivision = -8, 4, 2
		return p
	}
	check(primary(-8, 11, -5, 11, -5, 1, 0, 3.5, 0, 60, 0.03, 60, 0.031, 40, 1.03, 30, 1.06, 50, 1.1, 0, 1.2, 11, 4, 11),
		"At rest it lies at 11 V. At -5 ms it falls, and 2 ms later, or halfway, it is at 2 V. It shoots up at 0 ms, "+
			"after 5 ms. A line follows, 35 V high in its middle, and lasts 1.05 ms.")
	check(primary(-8, 11, -5, 11, -5, 1, 0, 3.5, 0, 60, 0.1, 60, 0.11, 11, 4, 11), "At rest it lies at 11 V. At -5 ms it "+
		"falls, and 2 ms later, or halfway, it is at 2 V. It shoots up at 0 ms, after 5 ms. No line follows.")
	check(handout.Plot{Title: "no trace"}, "There is no trace.")
	check(plot("any other", "bar", 0, 10, 1, 0, 2, 0, 7), "The trace lies between 2 bar and 7 bar.")
}
