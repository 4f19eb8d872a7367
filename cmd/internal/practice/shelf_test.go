package practice

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/testrun"
)

// largeOnce is a pack with complaints that come and go and with tests of the oscilloscope.
var largeOnce = sync.OnceValues(func() (*Shelf, error) {
	text, err := pack.Source("double-ended")
	if err != nil {
		return nil, err
	}
	return NewShelf(context.Background(), "double-ended.toml", text, func(int, int) {})
})

func largePlayer(t *testing.T, seed, log string) *player {
	t.Helper()
	testrun.Slow(t, "works out a large pack")
	small, err := shelvesOnce()
	if err != nil {
		t.Fatal(err)
	}
	large, err := largeOnce()
	if err != nil {
		t.Fatal(err)
	}
	return resumed(t, seed, log, "", append(slices.Clone(small), large))
}

// TestOrderOfGrowing: from voltage drop on small systems to what comes and goes on large ones, then with the
// oscilloscope; of each kind few suspects come first. What a system's complaints are is read off the pack: stalls on
// bad roads and what is there only when hot come and go, no-start does not.
func TestOrderOfGrowing(t *testing.T) {
	p := largePlayer(t, "order", "")
	for _, o := range p.g.c.Offers {
		for i := 1; i < len(o.Stages); i++ {
			a, b := o.Stages[i-1], o.Stages[i]
			if b.Kind < a.Kind || b.Kind == a.Kind && b.Suspects < a.Suspects {
				t.Errorf("pack %s: %s comes after %s", o.Pack, b.ID(), a.ID())
			}
		}
	}
	for name, want := range map[string]Kind{"horn silent": Steady, "double-ended no-start": Steady,
		"double-ended stalls": Comes, "double-ended hot": Comes, "double-ended no-start.scope": Scope} {
		if got := p.stage(name).Kind; got != want {
			t.Errorf("%s is of kind %d, want %d", name, got, want)
		}
	}
	// Whoever masters what is suggested goes through every stage once: small systems first, then what comes and goes,
	// the oscilloscope last.
	var way []string
	kind := Steady
	for range 100 {
		at := p.g.next()
		if name := p.g.name(at); !slices.Contains(way, name) {
			way = append(way, name)
		} else {
			break
		}
		o := p.g.c.Offers[at.offer]
		if k := o.Stages[at.stage].Kind; k < kind {
			t.Errorf("%v goes back", way)
		} else {
			kind = k
		}
		for n := range Rule().Met {
			p.g.log = append(p.g.log, Entry{Pack: o.Pack, Stage: o.Stages[at.stage].ID(), Level: Exam, Proven: true,
				Fault: []string{"a", "b", "c", "d", "e", "f"}[n]})
		}
	}
	all := 0
	for _, o := range p.g.c.Offers {
		all += len(o.Stages)
	}
	if len(way) != all || way[0] != "lamp lamp-weak-or-out" || !strings.HasSuffix(way[all-1], ".scope") {
		t.Errorf("%d stages, the way has %d: %v", all, len(way), way)
	}
}

// TestWithTheOscilloscope: its stages have its tests, and no others have; its picture is there after the commit and not
// before; and the mark counts at its own stage.
func TestWithTheOscilloscope(t *testing.T) {
	p := largePlayer(t, "scope", "")
	p.want(p.do("GET", "/"), "With the oscilloscope.")
	scope := regexp.MustCompile(`(?i)oscilloscope`)
	if page := p.do("POST", "/vehicle", "level", "open", "stage", "double-ended no-start"); scope.MatchString(page) {
		t.Error("an oscilloscope where there is none")
	}
	page := p.do("POST", "/vehicle", "level", "exam", "stage", "double-ended no-start.scope")
	if !scope.MatchString(page) || strings.Contains(page, `id="picture`) {
		t.Error("no oscilloscope, or a picture before any commit")
	}
	l, pictures := p.g.now.lab, 0
	if l.Pack.Source == "" {
		t.Error("the lab lacks the text of its pack")
	}
	for i, test := range l.Tests {
		if strings.HasPrefix(test.Instrument, "scope-") && pictures < 3 {
			if page := p.commit(i, ""); !strings.Contains(page, "<svg") || !strings.Contains(page, "picture") {
				t.Errorf("%s shows no picture", test.ID)
			}
			p.do("POST", "/steps/"+string(rune('1'+pictures))+"/verdict", "good", p.right(i))
			pictures++
		}
	}
	if pictures < 2 {
		t.Fatalf("%d tests with the oscilloscope", pictures)
	}
	p.do("POST", "/conclusion", "key", "end", "repair", p.best())
	if n := len(p.g.log); n != 1 || p.g.log[0].Stage != "no-start.scope" {
		t.Errorf("log %v", p.g.log)
	}
	if again, strange := ParseLog(p.kept); strange != 0 || len(again) != 1 {
		t.Errorf("the log is not read again: %s", p.kept)
	}
}
