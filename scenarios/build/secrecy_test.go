package build

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"nospark/scenarios/lab"
	"nospark/scenarios/term"
)

// secretClass is a lab of one pack in which two faults are hidden in many sheets. Keys of tests are fixed, so these
// tests of chance give the same numbers every time; their margins are what a right program passes in all but one of
// some million keys.
func secretClass(t *testing.T, students int, key term.Key) (*lab.Lab, [2]int) {
	t.Helper()
	in := input(t, builtin(t, "single-coil"), "complaint = \"no-start\"\nknown = 0\nfaults = [\"fuse-blown\", "+
		"\"coil-secondary\"]\n", students)
	in.Key = key
	l, _ := build(t, in)
	var faults [2]int
	for f, v := range l.Faults {
		switch v.ID {
		case "fuse-blown":
			faults[0] = f
		case "coil-secondary":
			faults[1] = f
		}
	}
	return l, faults
}

// Line numbers, check letters, sheet codes and the places of abnormal readings among the lines have nothing to do with
// the hidden fault: over 600 sheets of two faults none of them differs by more than chance. Mean and variance of chi
// squared with k degrees of freedom are k and 2k (any textbook of statistics).
func TestCodesAreIndependentOfTheFault(t *testing.T) {
	l, faults := secretClass(t, 600, term.Key{7, 7, 7})
	group := make([]int, len(l.Sheets))
	var size [2]float64
	for i, s := range l.Sheets {
		if l.Hypotheses[s.Truth].Fault == faults[1] {
			group[i] = 1
		}
		size[group[i]]++
	}
	if size[0] < 200 || size[1] < 200 {
		t.Fatalf("sheets per fault: %v", size)
	}
	check := func(name string, chi float64, degrees int) {
		t.Helper()
		k := float64(degrees)
		off := (chi - k) / math.Sqrt(2*k)
		t.Logf("%s: chi squared %.0f with %d degrees of freedom, %+.1f standard deviations", name, chi, degrees, off)
		if off > 5 || off < -5 {
			t.Errorf("%s: %.1f standard deviations from what chance gives", name, off)
		}
	}
	// Numbers are a draw of 900 without repetition, of mean 549.5 and variance (900²-1)/12.
	chi := 0.0
	for test := range l.Tests {
		var sum [2]float64
		for i, s := range l.Sheets {
			sum[group[i]] += float64(s.Lines[test].Number)
		}
		d := sum[0]/size[0] - sum[1]/size[1]
		chi += d * d / ((900*900 - 1) / 12.0 * (1/size[0] + 1/size[1]))
	}
	check("line numbers of each test", chi, len(l.Tests))

	pairs, codes := map[string]*[2]float64{}, map[string]*[2]float64{}
	count := func(table map[string]*[2]float64, key string, g int) {
		if table[key] == nil {
			table[key] = new([2]float64)
		}
		table[key][g]++
	}
	for i, s := range l.Sheets {
		for _, line := range s.Lines {
			count(pairs, line.Letters, group[i])
		}
		for at, c := range s.Code {
			count(codes, fmt.Sprint(at, string(c)), group[i])
		}
	}
	check("check letters", contingency(pairs), len(pairs)-1)
	check("letters of codes", contingency(codes), len(codes)-6) // six places, one of them a dash

	// Within a sheet, abnormal readings stand on lines like all others.
	abnormal, lines, variance := 0.0, 0.0, 0.0
	for _, s := range l.Sheets {
		for test, line := range s.Lines {
			if !l.Tests[test].Bands[line.Band].Normal {
				abnormal += float64(line.Number) - 549.5
				lines++
			}
		}
	}
	variance = lines * (900*900 - 1) / 12
	check("places of abnormal readings", abnormal*abnormal/variance, 1)
}

// contingency is Pearson's chi squared of a table of two columns.
func contingency(table map[string]*[2]float64) float64 {
	var column [2]float64
	for _, row := range table {
		column[0] += row[0]
		column[1] += row[1]
	}
	chi := 0.0
	for _, row := range table {
		for g := range row {
			want := (row[0] + row[1]) * column[g] / (column[0] + column[1])
			chi += (row[g] - want) * (row[g] - want) / want
		}
	}
	return chi
}

// What stands on a classmate's sheet, or on the own sheet of another lab or under another key, foretells nothing on the
// own sheet: check letters are met as often as a guess meets them, once in 400, and line numbers once in 900.
func TestCodesOfOthersForetellNothing(t *testing.T) {
	const letterRate, numberRate = 1.0 / (20 * 20), 1.0 / 900
	check := func(name string, hits, tries int, rate float64) {
		t.Helper()
		// Coincidences of independent uniform draws are independent by pairs, so the variance is that of a binomial.
		off := (float64(hits) - float64(tries)*rate) / math.Sqrt(float64(tries)*rate*(1-rate))
		t.Logf("%s: %d of %d, once in %.1f, %+.1f standard deviations", name, hits, tries, float64(tries)/float64(hits),
			off)
		if off > 5 || off < -5 || tries < 50_000 {
			t.Errorf("%s: %d of %d", name, hits, tries)
		}
	}
	a, _ := secretClass(t, 300, term.Key{7, 7, 7})
	b, _ := secretClass(t, 300, term.Key{7, 7, 8})
	letters, numbers, lines, tries, meetings := 0, 0, 0, 0, 0
	for i := range a.Sheets {
		at := map[int]string{}
		for _, line := range a.Sheets[i].Lines {
			at[line.Number] = line.Letters
		}
		for j := range i {
			for test := range a.Tests {
				x, y := a.Sheets[i].Lines[test], a.Sheets[j].Lines[test]
				tries++
				letters += btoi(x.Letters == y.Letters)
				numbers += btoi(x.Number == y.Number)
				if of, met := at[y.Number]; met {
					meetings++
					lines += btoi(of == y.Letters)
				}
			}
		}
	}
	check("letters of a classmate's line of the same test", letters, tries, letterRate)
	check("letters of a classmate's line of the same number", lines, meetings, letterRate)
	check("number of a classmate's line of the same test", numbers, tries, numberRate)

	letters, numbers, tries = 0, 0, 0
	for i := range a.Sheets {
		if a.Sheets[i].Code == b.Sheets[i].Code {
			t.Errorf("sheet %d has code %s under two keys", i, a.Sheets[i].Code)
		}
		for test := range a.Tests {
			x, y := a.Sheets[i].Lines[test], b.Sheets[i].Lines[test]
			tries += 2
			letters += btoi(x.Letters == y.Letters) +
				btoi(x.Letters == b.Sheets[(i+1)%len(b.Sheets)].Lines[test].Letters)
			numbers += btoi(x.Number == y.Number) + btoi(x.Number == b.Sheets[(i+1)%len(b.Sheets)].Lines[test].Number)
		}
	}
	check("letters under another key", letters, tries, letterRate)
	check("number under another key", numbers, tries, numberRate)

	// A guesser who always says the same pair, whichever comes most often on the sheets of the class.
	seen, all, most := map[string]int{}, 0, 0
	for _, s := range a.Sheets {
		for _, line := range s.Lines {
			seen[line.Letters]++
			all++
			most = max(most, seen[line.Letters])
		}
	}
	t.Logf("the best single guess at letters is right once in %.0f", float64(all)/float64(most))
	if len(seen) != 400 || float64(most) > float64(all)*letterRate+5*math.Sqrt(float64(all)*letterRate) {
		t.Errorf("%d pairs of letters, the most frequent %d times of %d", len(seen), most, all)
	}
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// What a sheet hides is drawn with HMAC-SHA-256 under the key of the term: computed here from the standard library
// alone, the numbers and letters of a sheet come out the same. Source: RFC 2104 for HMAC; the labels are those of
// package draw.
func TestSheetsAreDrawnByHMAC(t *testing.T) {
	in := input(t, twoLamps(t), "", 2)
	l, _ := build(t, in)
	who := person{id: "s00", section: "A"}
	stream := func(labels ...string) func(n uint64) uint64 {
		var name []byte
		for _, label := range append([]string{"nospark draw 1"}, labels...) {
			name = append(binary.BigEndian.AppendUint64(name, uint64(len(label))), label...)
		}
		var block []byte
		counter := uint64(0)
		return func(n uint64) uint64 {
			for {
				if len(block) == 0 {
					mac := hmac.New(sha256.New, in.Key[:])
					mac.Write(binary.BigEndian.AppendUint64(bytes.Clone(name), counter))
					block = mac.Sum(nil)
					counter++
				}
				v := binary.BigEndian.Uint64(block)
				block = block[8:]
				if v >= -n%n {
					return v % n
				}
			}
		}
	}
	letters := stream(who.labels(l.Name, "letters")...)
	pool := make([]int, 900)
	for i := range pool {
		pool[i] = 100 + i
	}
	numbers := stream(who.labels(l.Name, "lines")...)
	for i := len(pool) - 1; i > 0; i-- {
		j := numbers(uint64(i + 1))
		pool[i], pool[j] = pool[j], pool[i]
	}
	const alphabet = "BCDFGHJKLMNPQRSTVWXZ"
	for i, line := range l.Sheets[0].Lines {
		want := string([]byte{alphabet[letters(20)], alphabet[letters(20)]})
		if line.Letters != want || line.Number != pool[i] {
			t.Errorf("line %d of the first sheet is %d %s, want %d %s", i, line.Number, line.Letters, pool[i], want)
		}
	}
}

// No verb of package fmt and no JSON shows a key, alone or inside other values.
func TestKeyPrintsNowhere(t *testing.T) {
	in := input(t, twoLamps(t), "", 1)
	in.Key = term.Key([]byte("0123456789abcdef0123456789ABCDEF"))
	check := func(how, text string) {
		t.Helper()
		for _, form := range []string{"0123456789", "48 49 50 51", "48,49,50,51", "0x30, 0x31", "30313233"} {
			if strings.Contains(text, form) {
				t.Errorf("%s shows the key", how)
			}
		}
	}
	for what, v := range map[string]any{"key": in.Key, "input": in, "pointer": &in, "list": []term.Key{in.Key}} {
		for _, verb := range "vsdxXqUboO" {
			for _, flag := range []string{"", "+", "#"} {
				check(fmt.Sprintf("%%%s%c of the %s", flag, verb, what), fmt.Sprintf("%"+flag+string(verb), v))
			}
		}
	}
	text, err := json.Marshal(map[string]any{"key": in.Key, "list": []term.Key{in.Key},
		"key of a map": map[term.Key]int{in.Key: 1}})
	if err != nil {
		t.Fatal(err)
	}
	check("JSON", string(text))
}
