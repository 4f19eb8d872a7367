package content

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"nospark/scenarios/handout"
)

// Figure is a picture with texts that tell the same.
type Figure struct {
	Caption string // "" for none
	Picture Picture
	Words   []string // what it shows, for whoever does not see it
	Telling string   // names the words, where a screen has both and where there is no picture; "" for no name
	Height  float64  // on paper, mm; 0 for the rest of the page
}

func (Figure) block() {}

// Picture is one of the picture types of this package.
type Picture interface{ picture() }

func (Circuit) picture() {}
func (Trace) picture()   {}
func (Chart) picture()   {}
func (Dots) picture()    {}
func (Bars) picture()    {}

// Circuit is the circuit as drawn, with a legend of its signs.
type Circuit struct {
	Diagram handout.Diagram
	Large   bool // for a reader of large print: names as large as have room
}

// Trace is a picture on an oscilloscope screen.
type Trace struct {
	Plot  handout.Plot
	Large bool // for a reader of large print: its texts as large as all others
}

// Chart shows series of numbers as stepped lines.
type Chart struct {
	XLabel, YLabel string
	Series         []Series
}

// Series is one line of a chart.
type Series struct {
	Name string
	X, Y []float64
}

// Words tell a series point by point.
func (s Series) Words(xLabel, yLabel string) string {
	if len(s.X) == 0 {
		return s.Name + ": nothing"
	}
	var points []string
	for i := range s.X {
		points = append(points, fmt.Sprintf("%g at %.4g", s.Y[i], s.X[i]))
	}
	return fmt.Sprintf("%s, %s at %s: %s", s.Name, yLabel, xLabel, strings.Join(points, "; "))
}

// Dots shows how often values occur: a dot for each over an axis, one above the other where they are equal.
type Dots struct {
	Values   []float64
	From, To float64 // of the axis
	Tick     float64 // distance of its figures
	Unit     string  // below the axis, "" for none
	Highest  float64 // mm, of the tallest heap on paper
}

// Words tell how often each value occurs; unit stands behind a value.
func (d Dots) Words(one, many, unit string) string {
	counts := map[float64]int{}
	for _, v := range d.Values {
		counts[v]++
	}
	var words []string
	for _, v := range slices.Sorted(maps.Keys(counts)) {
		what := many
		if counts[v] == 1 {
			what = one
		}
		words = append(words, strings.TrimSpace(fmt.Sprintf("%d %s at %g %s", counts[v], what, v, unit)))
	}
	return strings.Join(words, "; ")
}

// Bars compares shares of a whole.
type Bars struct{ List []Bar }

// Bar is a share with its name and what is said about it.
type Bar struct {
	Label     string
	Value, Of float64
	Note      string
}

// Words tell each share.
func (b Bars) Words() []string {
	var words []string
	for _, bar := range b.List {
		words = append(words, bar.Label+": "+bar.Note)
	}
	return words
}
