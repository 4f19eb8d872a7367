package main

import (
	"context"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"nospark/scenarios/testrun"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// browser is a tab of Chromium with the rules of axe-core at hand.
type browser struct {
	tab  context.Context
	axe  string
	seen int // pages looked at

	plain bool // without scripts
}

// openBrowser starts Chromium. NOSPARK_AXE names axe.min.js of the npm package axe-core, which is fetched and never
// kept in the project.
func openBrowser(t *testing.T) *browser {
	t.Helper()
	testrun.Long(t, "starts Chromium")
	path := testrun.Program(t, "chromium")
	file := os.Getenv("NOSPARK_AXE")
	if file == "" {
		testrun.Missing(t, "NOSPARK_AXE is empty; npm pack axe-core, unpack it and name its axe.min.js")
	}
	axe, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.WSURLReadTimeout(2*time.Minute))
	alloc, stop := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(stop)
	tab, closeTab := chromedp.NewContext(alloc)
	t.Cleanup(closeTab)
	b := &browser{tab: tab, axe: string(axe)}
	b.do(t, chromedp.Navigate("about:blank"))
	return b
}

// do lets the tab do something.
func (b *browser) do(t *testing.T, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(b.tab, steps...); err != nil {
		t.Fatal(err)
	}
}

// value is what a script gives on the page that is open, a promise awaited.
func value[T any](t *testing.T, b *browser, script string) T {
	t.Helper()
	v, err := chromedp.Run(b.tab, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// look opens a page on a screen of some width, in light or dark.
func (b *browser) look(t *testing.T, path string, width int64, scheme string) {
	t.Helper()
	media := func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	}
	b.do(t, chromedp.EmulateViewport(width, 900), chromedp.Func(media), chromedp.Navigate("file://"+path))
	b.seen++
}

// violations runs the rules of WCAG 2.1 A and AA on the page that is open, and gives each broken one with its first
// element.
func (b *browser) violations(t *testing.T) []string {
	t.Helper()
	b.do(t, chromedp.Evaluate[chromedp.Void](b.axe))
	type found struct {
		Passes     int      `json:"passes"`
		Violations []string `json:"violations"`
	}
	result := value[found](t, b, `axe.run(document, {
		runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"], resultTypes: ["violations"]}).then(r => ({
		passes: r.passes.length,
		violations: r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes[0].html + " " + v.nodes[0].failureSummary)}))`)
	if result.Passes < 5 { // a page of this project meets a dozen rules that concern it
		t.Errorf("only %d rules of axe-core passed", result.Passes)
	}
	return result.Violations
}

// sideways is by how many pixels the page scrolls sideways; its tables and drawings may, in regions of their own.
func (b *browser) sideways(t *testing.T) int {
	t.Helper()
	return value[int](t, b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`)
}

// pagesOfKind is how many pages of a kind in a lab are looked at; NOSPARK_PAGES=all takes every page, in ten minutes
// more.
const pagesOfKind = 1

// TestPagesAreAccessible: axe-core finds nothing on pages of the demo of every kind, nor on the first of each kind in
// the dark and on a telephone, where no page scrolls sideways. Rules: WCAG 2.1, levels A and AA, as axe-core checks
// them; the width of 320 px is that of success criterion 1.4.10.
func TestPagesAreAccessible(t *testing.T) {
	b := openBrowser(t)
	b.findsSomething(t)
	dir := filepath.Join(t.TempDir(), "demo")
	if err := runDemo(t.Context(), dir, io.Discard, io.Discard); err != nil {
		t.Fatal(err)
	}
	kinds := map[string]int{}
	most := pagesOfKind
	if os.Getenv("NOSPARK_PAGES") == "all" {
		most = math.MaxInt
	} else if testing.Short() {
		most = 1
	}
	err := filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".html" {
			return err
		}
		name, _ := filepath.Rel(dir, path)
		stem := strings.TrimSuffix(filepath.Base(path), ".html")
		kind := filepath.Dir(name) + stem[strings.LastIndex(stem, "-")+1:]
		if kinds[kind]++; kinds[kind] > most {
			return nil
		}
		b.check(t, name, path, 1280, "light")
		if kinds[kind] == 1 {
			b.check(t, name, path, 1280, "dark")
			b.check(t, name, path, 320, "light")
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	// booklet, worksheet, readings and debrief of six labs, and the coordinator's
	if want := 6*4 + 1; len(kinds) != want {
		t.Errorf("%d kinds of pages, want %d", len(kinds), want)
	}
	t.Logf("%d looks at pages of %d kinds", b.seen, len(kinds))
}

func (b *browser) check(t *testing.T, name, path string, width int64, scheme string) {
	t.Helper()
	b.look(t, path, width, scheme)
	for _, v := range b.violations(t) {
		t.Errorf("%s, %d px, %s: %s", name, width, scheme, v)
	}
	if over := b.sideways(t); over > 0 {
		t.Errorf("%s, %d px: scrolls %d px sideways", name, width, over)
	}
}

// findsSomething shows that the rules are at work: a page with five faults has them.
func (b *browser) findsSomething(t *testing.T) {
	t.Helper()
	bad := filepath.Join(t.TempDir(), "bad.html")
	page := `<!DOCTYPE html><html><head></head><body><p style="color:#aaa;background:#fff">pale</p><img src="x.png">` +
		`<div style="overflow:auto;width:90px;height:40px"><table style="width:900px"><tr><td>wide</td></tr></table></div>` +
		`<p style="width:700px">wide</p></body></html>`
	if err := os.WriteFile(bad, []byte(page), 0o600); err != nil {
		t.Fatal(err)
	}
	b.look(t, bad, 320, "light")
	found := strings.Join(b.violations(t), "\n")
	for _, rule := range []string{"color-contrast", "document-title", "html-has-lang", "image-alt"} {
		if !strings.Contains(found, rule+": ") {
			t.Errorf("axe-core does not find a fault of %s in\n%s", rule, found)
		}
	}
	if over := b.sideways(t); over < 300 {
		t.Errorf("a page 700 px wide scrolls by %d", over)
	}
}
