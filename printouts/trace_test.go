package printouts

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"nospark/printouts/content"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
	"nospark/scenarios/testrun"
	"nospark/scenarios/vehicle"
)

// TestPicturesByEar: who only hears the words of an oscilloscope picture, and those of the vehicle known to be good,
// judges it as the reading beside it says. The rules are those of the list of instruments, which the reading follows
// too; the words come from the curve alone. Values are told as fine as an eye sees them, so a picture on the edge
// between two judgments may go either way.
func TestPicturesByEar(t *testing.T) {
	testrun.Slow(t, "listens to every picture")
	heard, agreed, phrases := 0, 0, map[string]bool{}
	longest := map[string]float64{"single-coil": 6e-3, "reluctor": 25e-3} // dwells, seconds
	for _, name := range []string{"single-coil", "reluctor"}[:testrun.Times(t, 2, 1)] {
		dwell := longest[name]
		p, err := pack.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		good, seen := map[int]sounds{}, map[string]bool{}
		listen := func(label string, v *vehicle.Vehicle) {
			for i := range p.Tests {
				if instrument := p.Tests[i].Instrument; instrument.Scope() {
					words, phrase := wordsOfPicture(t, v, i, lab.ScreenOf(instrument.ID, -dwell)), v.Read(i).Phrase
					sound := soundsOf(words)
					if label == "" {
						good[i] = sound
					}
					key := strconv.Itoa(i) + words
					if seen[key] || phrase == pack.NotRunning {
						continue
					}
					seen[key], phrases[phrase] = true, true
					heard++
					if sound.phrase(instrument.ID, good[i]) == phrase {
						agreed++
						continue
					}
					t.Logf("%s %s %s: reads %q; %s", name, label, p.Tests[i].ID, phrase, words)
				}
			}
		}
		listen("", vehicle.Healthy(p))
		for _, f := range p.Faults {
			v := vehicle.Healthy(p)
			v.Apply(f, 0.5)
			listen(f.ID, v)
		}
	}
	if heard < 100 || agreed*100 < heard*98 || len(phrases) < 14 {
		t.Errorf("%d of %d pictures are judged as their readings say, %d different readings", agreed, heard, len(phrases))
	}
}

// wordsOfPicture are those of a test's picture on a vehicle, on a screen.
func wordsOfPicture(t *testing.T, v *vehicle.Vehicle, test int, s *lab.Screen) string {
	t.Helper()
	curve, err := v.Picture(test)
	if err != nil {
		t.Fatal(err)
	}
	curve = curve.Within(s.Begin, s.End)
	x := make([]float64, len(curve.X))
	for i := range x {
		x[i] = 1e3 * curve.X[i]
	}
	return strings.Join(content.TraceWords(handout.Plot{Title: s.Title, XLabel: "ms", YLabel: s.Unit, X: x, Y: curve.Y,
		XFrom: 1e3 * s.Begin, XTo: 1e3 * s.End, XPerDivision: 1e3 * s.Step,
		YFrom: s.From, YTo: s.To, YPerDivision: s.Division}), " ")
}

// sounds are the numbers among the words of a picture: 0 where there is none.
type sounds struct {
	flat, line               bool
	level                    float64 // of a flat line
	peak, slope, dwell, burn float64
	low, high                float64 // of a signal
	stays, other             float64 // of a signal: longest times up and down; of a wave: to the next one, and of one
	calm                     float64 // of a primary
}

func soundsOf(words string) sounds {
	number := func(before string) float64 {
		if m := regexp.MustCompile(before + ` (-?[\d.]*\d)`).FindStringSubmatch(words); m != nil {
			v, _ := strconv.ParseFloat(m[1], 64)
			return v
		}
		return 0
	}
	s := sounds{flat: strings.HasPrefix(words, "A flat line"), line: strings.Contains(words, "A spark line follows"),
		level: number("flat line at"), slope: number("rises(?: at first)? by"), dwell: number("at 0 ms, after"),
		burn: number("lasts"), low: number("changes between"), high: number(`changes between \S+ V and`)}
	s.stays, s.other, s.calm = number("stays high for"), number("most and low for"), number("At rest it lies at")
	if wave := number("One wave takes"); wave > 0 {
		s.stays, s.other = number("next one comes after"), wave
	}
	if s.calm > 0 {
		s.low = number("halfway, it is at")
	}
	s.peak = number("(?:reaches|line rises to)(?: more than)?")
	if strings.Contains(words, "beyond the right edge") {
		s.burn = 2.5
	}
	return s
}

// phrase judges by the rules that the list of instruments gives.
func (s sounds) phrase(instrument string, good sounds) string {
	switch instrument {
	case cards.ScopeCurrent:
		return s.current(good)
	case cards.ScopeSecondary:
		return s.secondary(good)
	case cards.ScopePrimary:
		return s.primary(good)
	}
	swing, whole := s.high-s.low, good.high-good.low
	switch {
	case s.flat || swing < 0.05*whole:
		return cards.Nothing
	case instrument == cards.ScopeSignal && s.low > 0.6:
		return cards.RaisedLow
	case swing < 0.6*whole:
		return cards.WeakSwing
	case s.stays*good.other > 1.5*good.stays*s.other && good.stays > 0:
		return cards.MissingPulses
	case good.stays == 0 && s.stays > 1.5*s.other: // of a good wave the next one may lie beyond the screen
		return cards.MissingPulses
	}
	return cards.EvenSwing
}

func (s sounds) primary(good sounds) string {
	switch {
	case s.flat && s.level < 0.5:
		return cards.Nothing
	case s.flat && s.level < 0.3*good.calm:
		return cards.StaysDown
	case s.flat:
		return cards.StaysUp
	case s.dwell < 0.3*good.dwell:
		return cards.CutShort
	case s.low > good.low+4:
		return cards.LimitsEarly
	case s.low > good.low+0.95:
		return cards.RaisedFloor
	case s.dwell < 0.8*good.dwell:
		return cards.CutShort
	case s.burn < 0.15:
		return cards.NoSparkLine
	case s.burn < 0.75*good.burn:
		return cards.ShortLine
	}
	return cards.NormalTrace
}

func (s sounds) current(good sounds) string {
	switch low := s.peak < 0.85*good.peak; {
	case s.flat && s.level >= 0.5:
		return cards.NeverOff
	case s.flat || s.peak < 0.5:
		return cards.NoCurrent
	case s.slope > 1.5*good.slope:
		return cards.SteepStart
	case low && s.dwell < 0.8*good.dwell:
		return cards.CutShort
	case low:
		return cards.LowPeak
	}
	return cards.CleanRamp
}

func (s sounds) secondary(good sounds) string {
	switch {
	case s.flat || s.peak < 1:
		return cards.Nothing
	case !s.line && s.peak > 1.5*good.peak:
		return cards.HighNoLine
	case !s.line:
		return cards.LowNoLine
	case s.peak > 1.2*good.peak:
		return cards.HighAndShort
	case s.peak < 0.75*good.peak && s.burn > good.burn:
		return cards.LowAndLong
	case s.burn < 0.75*good.burn:
		return cards.ShortLine
	}
	return cards.NormalLine
}
