package main

import (
	"io"
	"os"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// bar shows progress on a terminal and nothing anywhere else.
type bar struct {
	out  io.Writer
	what string
	bar  *progressbar.ProgressBar // nil where nothing is shown, and before the first step
	show bool
}

func newBar(out io.Writer, what string) *bar {
	f, isFile := out.(*os.File)
	return &bar{out: out, what: what, show: isFile && term.IsTerminal(int(f.Fd()))}
}

// set tells how far the work is.
func (b *bar) set(done, total int) {
	if !b.show || total == 0 {
		return
	}
	if b.bar == nil {
		b.bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(b.out),
			progressbar.OptionSetDescription(b.what),
			progressbar.OptionSetWidth(30), progressbar.OptionShowCount(), progressbar.OptionClearOnFinish())
	}
	b.bar.ChangeMax(total)
	_ = b.bar.Set(done) // what cannot be shown is no reason to stop
}

// done takes the bar away.
func (b *bar) done() {
	if b.bar != nil {
		_ = b.bar.Finish()
	}
}
