//go:build unix

package main

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"nospark/cmd/internal/web"
	"nospark/scenarios/lab"
)

// visit opens an address on a screen of some width, with scripts or without.
func (b *browser) visit(t *testing.T, address string, width int64, scripts bool) {
	t.Helper()
	b.plain = !scripts
	may := func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, emulation.SetScriptExecutionDisabled,
			emulation.SetScriptExecutionDisabledParams{Value: !scripts})
		return err
	}
	b.do(t, chromedp.EmulateViewport(width, 700), chromedp.Func(may), chromedp.Navigate(address))
}

// dark turns the page dark or light.
func (b *browser) dark(t *testing.T, scheme string) {
	t.Helper()
	b.do(t, chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	}))
}

// accessible runs axe-core on the page that is open, in light and dark, and looks whether it scrolls sideways. With
// NOSPARK_SHOTS it keeps a picture of each page.
func (b *browser) accessible(t *testing.T, name string) {
	t.Helper()
	if b.plain { // axe-core is a script; the page is the same with scripts, and is looked at there
		return
	}
	for _, scheme := range []string{"light", "dark"} {
		b.dark(t, scheme)
		for _, v := range b.violations(t) {
			t.Errorf("%s, %s: %s", name, scheme, v)
		}
		if dir := os.Getenv("NOSPARK_SHOTS"); dir != "" {
			shot, err := chromedp.Run(b.tab, chromedp.FullScreenshot(100))
			if err == nil {
				err = os.WriteFile(filepath.Join(dir, name+"-"+scheme+".png"), shot, 0o644)
			}
			if err != nil {
				t.Error(err)
			}
		}
	}
	b.dark(t, "light")
	if over := b.sideways(t); over > 0 {
		t.Errorf("%s scrolls %d px sideways", name, over)
	}
	if value[int](t, b, "innerWidth") <= 320 {
		b.zoomed(t, name)
	}
	b.seen++
}

// zoomed looks at the page as a browser shows it on a screen of 640 by 700 pixels at 200 %: half as many of its own
// pixels, each twice as large. Nothing scrolls sideways but the own boxes of diagrams and, on the desk, of the table.
// Source: WCAG 2.1, success criteria 1.4.4 (200 %) and 1.4.10 (320 pixels, diagrams and tables excepted).
func (b *browser) zoomed(t *testing.T, name string) {
	t.Helper()
	b.do(t, chromedp.EmulateViewport(320, 350, chromedp.EmulateScale(2)))
	wide := value[string](t, b, `[...document.querySelectorAll("*")].filter((e) => e === document.documentElement ?
		e.scrollWidth > e.clientWidth : e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 &&
		["auto", "scroll", "hidden"].includes(getComputedStyle(e).overflowX) &&
		!e.matches(".picture, .wide, .tablebox, input, textarea, select, svg *"))
		.map((e) => e.outerHTML.slice(0, 80)).join("; ")`)
	if wide != "" {
		t.Errorf("%s at 200 %%: scrolls sideways: %s", name, wide)
	}
	if ratio := value[float64](t, b, "devicePixelRatio"); ratio != 2 {
		t.Errorf("%s: looked at with %v pixels for one", name, ratio)
	}
	b.do(t, chromedp.EmulateViewport(320, 700))
}

// until waits for a condition on the page, through its loading.
func (b *browser) until(t *testing.T, what string) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		done, err := chromedp.Run(b.tab, chromedp.Evaluate[bool]("document.readyState === 'complete' && !!("+what+")"))
		if err == nil && done {
			return
		}
		if time.Now().After(end) {
			text, _ := chromedp.Run(b.tab, chromedp.Evaluate[string]("location.href + ' ' + "+
				"document.body.innerText.slice(0, 600)"))
			t.Fatalf("waited in vain for %s on %s (%v)", what, text, err)
		}
	}
}

// fill types into a field and press a button by clicking, as a person does.
func (b *browser) fill(t *testing.T, field, text string) {
	t.Helper()
	b.do(t, chromedp.SendKeys(field, text))
}

func (b *browser) click(t *testing.T, what string) {
	t.Helper()
	b.do(t, chromedp.ScrollIntoView(what), chromedp.Click(what))
}

// claim opens the bench and claims a sheet.
func (b *browser) claim(t *testing.T, base, code, word string, scripts bool) {
	t.Helper()
	b.visit(t, base, 320, scripts)
	b.until(t, "document.querySelector('#word')")
	b.accessible(t, "enter")
	b.fill(t, "#sheet", code)
	b.fill(t, "#word", word)
	b.click(t, "form button")
	b.until(t, "document.querySelector('#next')")
}

// tests takes one step: test, expectation, reading, verdict.
func (b *browser) test(t *testing.T, l *lab.Lab, sheet *lab.Sheet, test, step int) {
	t.Helper()
	id := fmt.Sprintf(`input[name=test][value="%s"]`, l.Tests[test].ID)
	b.do(t, chromedp.Click(fmt.Sprintf(`details:has(%s) > summary`, id)))
	b.click(t, id)
	b.fill(t, "#expect", "battery voltage")
	b.click(t, ".bar button")
	b.until(t, fmt.Sprintf("document.querySelector('#now output') && document.title.includes('step %d')", step))
	title := value[string](t, b, "document.title")
	if want := sheet.Lines[test].Reading; !strings.HasPrefix(title, want) ||
		value[string](t, b, "document.querySelector('#now output').textContent") != want {
		t.Errorf("title %q, want %q first", title, want)
	}
	if at := value[string](t, b, "document.activeElement.id"); at != "now" {
		t.Errorf("after a commit the focus is on %q, want the reading", at)
	}
	b.accessible(t, fmt.Sprintf("reading-%d", step))
	if value[bool](t, b, "!!document.querySelector('.verdict')") {
		b.click(t, ".verdict input[value=yes]")
		b.click(t, ".now form button")
		b.until(t, fmt.Sprintf("document.body.innerText.includes('judged') && document.title.includes('step %d')",
			step))
	}
}

// TestBenchInABrowser plays a lab in Chromium: a phone with scripts, one without, and the desk, with axe-core on every
// page in every state (WCAG 2.1 A and AA), at 320 px.
func TestBenchInABrowser(t *testing.T) {
	first, second := openBrowser(t), openBrowser(t)
	folder, l, g := benchTerm(t, "title = \"Cranks, no start\"\ndate = 2026-09-07\npack = \"single-coil\"\nscope = "+
		"true\nspares = 1\n", 3)
	s := startServe(t, folder, "127.0.0.1:0")
	defer s.kill()
	word := func(i int) string { return claimWord(g.key, l.Name, l.Sheets[i].Code) }

	// a strip's code: the form is filled in, and the address keeps nothing of it
	first.visit(t, s.Class+"/claim#"+l.Sheets[0].Code+"&"+word(0), 320, true)
	first.until(t, "document.querySelector('#word').value")
	if got := value[string](t, first, "document.querySelector('#sheet').value+' '+document.querySelector('#word').value+"+
		"' '+location.href"); got != l.Sheets[0].Code+" "+word(0)+" "+s.Class+"/claim" {
		t.Errorf("by a strip's code: %q", got)
	}
	first.accessible(t, "enter-filled")
	first.click(t, "form button")
	first.until(t, "document.querySelector('#next')")
	first.accessible(t, "sheet")
	for n, test := range someTests(l) {
		first.test(t, l, &l.Sheets[0], test, n+1)
	}
	second.claim(t, s.Class, l.Sheets[1].Code, word(1), false)
	second.test(t, l, &l.Sheets[1], 0, 1)
	second.click(t, ".bar button") // nothing chosen
	second.until(t, "document.querySelector('#expect:invalid') || document.querySelector('[role=alert]')")

	second.visit(t, s.Class, 320, false)
	if value[string](t, second, "location.pathname") != "/sheet" {
		t.Error("a device that has claimed a sheet does not come to it")
	}

	second.visit(t, strings.Replace(s.Class, "127.0.0.1", "localhost", 1), 320, true) // another host: no cookie there
	second.until(t, "document.querySelector('#id')")
	second.fill(t, "#id", l.Sheets[2].Student)
	second.click(t, "button.second")
	second.until(t, "document.querySelector('#waiting')")
	// it looks again every 4 s
	value[bool](t, second, "(() => { for (let i = 0; i < 99; i++) clearTimeout(i); return true })()")
	second.accessible(t, "waiting")

	second.visit(t, s.link, 1280, true)
	second.until(t, "document.querySelector('#live')")
	second.accessible(t, "desk")
	if text := value[string](t, second, "document.body.innerText"); !strings.Contains(text, "concluded") ||
		strings.Contains(text, word(0)) {
		t.Errorf("the desk shows %s", text)
	}
	second.do(t, chromedp.KeyEvent("b"))
	if !value[bool](t, second, "document.body.classList.contains('blank')") {
		t.Error("the key b does not blank the desk")
	}
	second.do(t, chromedp.KeyEvent("b"))
	second.visit(t, s.Desk+"/door", 1280, true)
	second.until(t, "document.querySelector('.qr svg')")
	second.accessible(t, "door")

	// the desk pauses: the open page of the first phone shows it by itself, and a half-filled form stays
	second.visit(t, s.Desk, 320, true)
	second.until(t, "document.querySelector('#live')")
	second.accessible(t, "desk-narrow")
	second.click(t, "button[value=pause]")
	second.until(t, "document.body.innerText.includes('Everybody pauses')")
	first.until(t, "document.body.innerText.includes('The lab is paused')")
	first.accessible(t, "paused")
	second.click(t, "button[value=resume]")
	first.until(t, "document.querySelector('#expect')")
	first.fill(t, "#expect", "half a wo")
	second.click(t, "button[value=pause]")
	first.until(t, "document.querySelector('#changed a')")
	if text := value[string](t, first, "document.querySelector('#expect').value"); text != "half a wo" {
		t.Errorf("a filled form was replaced; it holds %q", text)
	}
	first.accessible(t, "changed")
	second.click(t, "button[value=resume]")
	second.until(t, "document.body.innerText.includes('Everybody goes on')")

	first.visit(t, s.Class+"/sheet", 320, true)
	first.until(t, "document.querySelector('#repair')")
	first.do(t, chromedp.SetValue("#repair", l.Repairs[0].Code+l.Repairs[0].Letters))
	first.fill(t, "#reason", "because")
	first.click(t, "form[action='/conclusion'] button")
	first.until(t, "document.title.startsWith('Concluded')")
	first.accessible(t, "concluded")
	first.visit(t, s.Class+"/debrief", 320, true)
	first.accessible(t, "not-released")
	second.fill(t, "#r-p", "4711")
	second.click(t, "button[value=release]")
	second.until(t, "document.body.innerText.includes('can read the debrief')")
	first.visit(t, s.Class+"/debrief", 320, true)
	first.until(t, "document.body.innerText.includes('How the mark comes about')")
	first.accessible(t, "debrief")
	first.visit(t, s.Class+"/booklet", 320, true)
	first.accessible(t, "booklet")
	t.Logf("%d looks at pages", first.seen+second.seen)
}

// TestPairedPhonesPages: the pages of the instructor's phone, in every state, by the rules of axe-core and at 320 px.
func TestPairedPhonesPages(t *testing.T) {
	b := openBrowser(t)
	h, _, _, _ := openHouse(t, 1, true)
	hand := h.class.Hand.Web
	states := map[string]func() web.Answer{
		"/offer":   func() web.Answer { return hand.Offer("key") },
		"/refused": func() web.Answer { return hand.Refuse(http.StatusUnauthorized, "pair this phone") },
		"/nobody":  func() web.Answer { return hand.Do(web.Request{Method: "GET", Path: web.HandPath}) },
		"/paused": func() web.Answer {
			return hand.Do(web.Request{Method: "POST", Path: web.HandPausePath, Form: url.Values{"stop": {"yes"}}})
		},
		"/wrong": func() web.Answer { return hand.Do(web.Request{Method: "POST", Path: web.HandTimePath}) },
		"/waiting": func() web.Answer {
			busy := *hand
			busy.See = func() web.Glance {
				return web.Glance{Guests: []web.Guest{{Word: "bolu", Sheet: "K2-BCD"},
					{Word: "dihu", Student: "1001", Name: "Ada Quill"}}, Running: true, Planned: 50, Left: 20}
			}
			return busy.Do(web.Request{Method: "GET", Path: web.HandPath})
		}}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		a := h.bench.Do(web.Request{Method: "GET", Path: r.URL.Path}) // style sheets
		if state, is := states[r.URL.Path]; is {
			a = state()
		}
		w.Header().Set("Content-Type", a.Type)
		w.Write(a.Body)
	}))
	defer server.Close()
	for path := range states {
		b.visit(t, server.URL+path, 320, true)
		b.until(t, "document.querySelector('h1').innerText.includes('phone')")
		b.accessible(t, "hand-"+path[1:])
	}
}

// someTests are tests of different kinds: figures, a lamp, words, and a picture where there is one.
func someTests(l *lab.Lab) []int {
	var some []int
	for _, instrument := range []string{"voltmeter", "test-lamp", "ammeter", "inspection"} {
		for i, test := range l.Tests {
			if test.Instrument == instrument {
				some = append(some, i)
				break
			}
		}
	}
	return some
}

// TestBenchByKeyboard plays a lab with Tab, space, Enter, arrows and letters alone.
func TestBenchByKeyboard(t *testing.T) {
	b := openBrowser(t)
	folder, l, g := benchTerm(t, "title = \"A lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n", 2)
	s := startServe(t, folder, "127.0.0.1:0")
	defer s.kill()
	key := func(keys ...string) {
		t.Helper()
		for _, k := range keys {
			b.do(t, chromedp.KeyEvent(k))
		}
	}
	to := func(what string) {
		t.Helper()
		for range 200 {
			if value[bool](t, b, "document.activeElement.matches(`"+what+"`)") {
				if !value[bool](t, b, "(r => r.height > 0 && r.bottom > 0 && r.top < "+
					"innerHeight)(document.activeElement.getBoundingClientRect())") {
					t.Errorf("%s has the focus and is out of sight", what)
				}
				return
			}
			key(kb.Tab)
		}
		t.Fatalf("Tab never comes to %s", what)
	}
	b.visit(t, s.Class, 320, true)
	b.until(t, "document.querySelector('#word')")
	to("#sheet")
	key(l.Sheets[0].Code)
	to("#word")
	key(claimWord(g.key, l.Name, l.Sheets[0].Code), kb.Enter)
	b.until(t, "document.querySelector('#next')")
	for step := 1; step <= 2; step++ {
		to("#choose summary")
		key(" ")
		to("#choose input[type=radio]")
		key(" ")
		to("#expect")
		key("12 V", kb.Enter)
		b.until(t, fmt.Sprintf("document.title.includes('step %d')", step))
		to(".verdict input")
		key(" ")
		to(".now button")
		key(kb.Enter)
		b.until(t, fmt.Sprintf("document.querySelectorAll('.record li').length === %d && "+
			"document.querySelectorAll('.record li')[%d].innerText.includes('judged')", step, step-1))
	}
	to("#repair")
	key(kb.ArrowDown)
	to("#reason")
	key("it is dark")
	to("form[action='/conclusion'] button")
	key(kb.Enter)
	b.until(t, "document.title.startsWith('Concluded')")
}
