package main

import (
	"context"
	"fmt"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
)

// took is a time in milliseconds: by the clock, and how long the page's thread was at work in it. Where other programs
// wait for the processor too the first is the longer, and says nothing of this one.
type took struct{ wall, busy float64 }

func (t took) String() string { return fmt.Sprintf("%.0f ms (%.0f at work)", t.wall, t.busy) }

// within tells whether the page needs no longer than a bar of so many milliseconds, on a quiet machine. The processor's
// cache is shared by all who wait, so half as much again is allowed.
func (t took) within(bar float64) bool { return t.quiet() <= bar }

// quiet is at most how long the same would take on a quiet machine.
func (t took) quiet() float64 { return min(t.wall, t.busy/1.5) }

func (p *practicePage) busyFromHere() {
	p.t.Helper()
	p.do(p.t, chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, performance.Enable, performance.EnableParams{})
		return err
	}))
}

// busy is how long the page's thread has been at work since it was opened, in milliseconds.
func (p *practicePage) busy() (ms float64) {
	p.t.Helper()
	p.do(p.t, chromedp.Func(func(ctx context.Context, tab *chromedp.Target) error {
		now, err := cdp.Call(ctx, tab, performance.GetMetrics, cdp.Empty{})
		for _, m := range now.Metrics {
			if m.Name == "ThreadTime" {
				ms = m.Value * 1000
			}
		}
		return err
	}))
	if ms == 0 {
		p.t.Fatal("the browser does not tell how long it was at work")
	}
	return ms
}
