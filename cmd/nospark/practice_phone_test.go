package main

import (
	"context"
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// tap touches the middle of the first element of a selector with a text, as a finger does.
func (p *practicePage) tap(selector, words string) {
	p.t.Helper()
	type point struct{ X, Y, Wide, High float64 }
	at := value[point](p.t, p.browser, fmt.Sprintf(`(() => {
		const at = [...document.querySelectorAll(%q)].find((e) => e.innerText.includes(%q));
		if (!at) return { Wide: -1 };
		for (let d = at.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
		at.scrollIntoView({ block: "center" });
		const box = at.getBoundingClientRect();
		return { X: box.x + box.width / 2, Y: box.y + box.height / 2, Wide: box.width, High: box.height };
	})()`, selector, words))
	if at.Wide < 0 {
		p.t.Fatalf("no %s with %q:\n%s", selector, words, p.text())
	}
	// 44 px: success criterion 2.5.5 of WCAG 2.1, target size
	if at.High < 43.5 || at.Wide < 43.5 {
		p.t.Errorf("%s %q is %.0f by %.0f px: too small for a finger", selector, words, at.Wide, at.High)
	}
	p.do(p.t, chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
		for _, kind := range []string{"touchStart", "touchEnd"} {
			touch := input.DispatchTouchEventParams{Type: input.DispatchTouchEventType(kind),
				TouchPoints: []*input.TouchPoint{}}
			if kind == "touchStart" {
				touch.TouchPoints = append(touch.TouchPoints, &input.TouchPoint{X: at.X, Y: at.Y})
			}
			if _, err := cdp.Call(ctx, tab, input.DispatchTouchEvent, touch); err != nil {
				return err
			}
		}
		return nil
	}))
}

// TestPracticeOnATelephone plays a whole game with a finger on a screen of 320 by 568 px, the least width of success
// criterion 1.4.10 of WCAG 2.1, with the picture of an oscilloscope in it. No page scrolls sideways, axe-core finds
// nothing, and a telephone that dropped the page comes back to the sheet.
func TestPracticeOnATelephone(t *testing.T) {
	p := openPractice(t)
	p.do(t, chromedp.EmulateViewport(320, 568, chromedp.EmulateScale(2), chromedp.EmulateMobile, chromedp.EmulateTouch))
	fits := func(name string) {
		t.Helper()
		if over := p.sideways(t); over > 0 {
			t.Errorf("%s scrolls %d px sideways", name, over)
		}
		p.accessible(name + " on a telephone")
	}
	fits("start")
	p.run(`document.getElementById("single-coil no-start.scope").closest("p").querySelector("label").id = "wanted"`)
	p.tap("#wanted", "With the oscilloscope")
	p.tap("button", "Get a vehicle")
	p.wait(`location.hash === "#/sheet"`)
	fits("sheet")
	p.run(`[...document.querySelectorAll("details label")].find((e) => /oscilloscope/i.test(
		e.innerText + e.closest("details").querySelector("summary").innerText)).id = "wanted"`)
	p.tap("#wanted", "")
	p.run(`document.getElementById("expect").value = "a steady line"`)
	p.tap("button", "Commit")
	p.wait(`!!document.querySelector("#now svg")`)
	fits("picture")
	p.tap("label", "bad")
	p.tap("button", "Record the verdict")
	p.wait(`!!document.querySelector(".said")`)
	fits("feedback")
	p.do(t, chromedp.Reload())
	p.wait(`performance.getEntriesByName("ready").length > 0 && !!document.querySelector("#now svg")`)
	p.run(`document.getElementById("repair").selectedIndex = 2`)
	p.tap("button", "Conclude")
	p.wait(`location.hash === "#/debrief"`)
	fits("debrief")
	p.tap("button", "Another vehicle")
	p.wait(`location.hash === "#/sheet"`)
	p.tap("button", "Leave this vehicle")
	p.wait(`location.hash === "#/"`)
	p.tap("a", "Your practice so far")
	p.wait(`location.hash === "#/progress"`)
	fits("progress")
	p.askedForNothing()
}
