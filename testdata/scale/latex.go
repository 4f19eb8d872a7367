package main

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"nospark/printouts/paper/worksheets"
	"nospark/scenarios/handout"
)

// typeset prints the worksheets of a class of 24 and of 200 with nospark and with pdflatex: the same texts and tables,
// two pages each, as one document, whose fixed costs many sheets share, and with a run of pdflatex for each sheet.
func typeset(folder string) error {
	if _, err := exec.LookPath("pdflatex"); err != nil {
		fmt.Println("  pdflatex is not installed")
		return nil
	}
	for _, n := range []int{1, 24, 200} {
		lab, err := class(n)
		if err != nil {
			return err
		}
		h, err := handout.Of(lab)
		if err != nil {
			return err
		}
		var pdf []byte
		ours, err := least(func() (time.Duration, error) {
			return worked(func() (err error) {
				pdf, err = worksheets.PDF(h)
				return err
			})
		})
		if err != nil {
			return err
		}
		path := filepath.Join(folder, "sheets.pdf")
		if err := os.WriteFile(path, pdf, 0o644); err != nil {
			return err
		}
		tex := filepath.Join(folder, "latex.tex")
		if err := os.WriteFile(tex, []byte(latex(h)), 0o644); err != nil {
			return err
		}
		theirs, err := least(func() (time.Duration, error) { return pdflatex(folder, tex) })
		if err != nil {
			return err
		}
		each := func(d time.Duration) time.Duration { return d / time.Duration(n) }
		row(fmt.Sprintf("a sheet of %d in one document (%s pages)", n, pages(path)), each(ours),
			fmt.Sprintf("pdflatex (%s pages)", pages(strings.TrimSuffix(tex, "tex")+"pdf")), each(theirs), 0)
		if n > 1 {
			single, err := alone(folder, h)
			if err != nil {
				return err
			}
			row("a sheet of the class document", each(ours), "pdflatex, sheet by sheet", single, 100)
		}
	}
	return nil
}

// alone is what one sheet costs in a document of its own.
func alone(folder string, h handout.Handout) (time.Duration, error) {
	one := h
	one.Worksheets, one.Readings = h.Worksheets[:1], h.Readings[:1]
	tex := filepath.Join(folder, "latex.tex")
	if err := os.WriteFile(tex, []byte(latex(one)), 0o644); err != nil {
		return 0, err
	}
	return least(func() (time.Duration, error) { return pdflatex(folder, tex) })
}

// pdflatex is the time that the processor worked for a document.
func pdflatex(folder, tex string) (time.Duration, error) {
	c, err := execute(exec.Command("pdflatex", "-interaction=batchmode", "-halt-on-error", "-output-directory="+folder,
		tex))
	return c.processor, err
}

// least is the least time of five runs, which other programs have disturbed least.
func least(run func() (time.Duration, error)) (time.Duration, error) {
	best := time.Duration(math.MaxInt64)
	for range 5 {
		d, err := run()
		if err != nil {
			return 0, err
		}
		best = min(best, d)
	}
	return best, nil
}

func pages(path string) string {
	out, err := exec.Command("pdfinfo", path).Output()
	if err != nil {
		return "?"
	}
	for line := range strings.Lines(string(out)) {
		if n, is := strings.CutPrefix(line, "Pages:"); is {
			return strings.TrimSpace(n)
		}
	}
	return "?"
}

// escape makes plain text safe for LaTeX.
var escape = strings.NewReplacer(`\`, `\textbackslash{}`, `&`, `\&`, `%`, `\%`, `$`, `\$`, `#`, `\#`, `_`, `\_`, `{`,
	`\{`, `}`, `\}`, `~`, `\textasciitilde{}`,
	`^`, `\textasciicircum{}`, "°", `$^\circ$`, "–", "--", "Ω", `$\Omega$`, "µ", `$\mu$`)

// latex writes the worksheets of a handout: head, complaint, vehicle, cautions, the grid with its rules, the small
// tables, the record with its rules, the conclusion.
func latex(h handout.Handout) string {
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p(`\documentclass[10pt]{article}`)
	p(`\usepackage[letterpaper,left=12mm,right=12mm,top=8mm,bottom=16mm]{geometry}`)
	p(`\usepackage[utf8]{inputenc}`)
	p(`\usepackage[T1]{fontenc}`)
	p(`\usepackage{array,graphicx,multicol}`)
	p(`\setlength\parindent{0pt}\setlength\tabcolsep{2pt}\renewcommand\arraystretch{1.15}\pagestyle{plain}`)
	p(`\begin{document}`)
	for _, w := range h.Worksheets {
		sheet(p, h, w)
	}
	p(`\end{document}`)
	return b.String()
}

func sheet(p func(string, ...any), h handout.Handout, w handout.Worksheet) {
	p(`%s, %s, %s\hfill Sheet %s\par\hrule\medskip`, escape.Replace(w.Name), escape.Replace(w.Student),
		escape.Replace(w.Section), w.Code)
	p(`{\Large\bfseries %s}\hfill{\Large\ttfamily %s}\par`, escape.Replace(h.Title), w.Code)
	p(`\textbf{Complaint} %s\par`, escape.Replace(w.Complaint))
	p(`\textbf{Vehicle} `)
	for _, f := range h.Reference.Vehicle {
		p(`%s: %s; `, escape.Replace(f.Name), escape.Replace(f.Value))
	}
	p(`\par\fbox{\parbox{0.97\textwidth}{\footnotesize Secondary voltage can injure or kill; keep pacemakers away. Mind rotating parts while cranking, hot parts and fuel vapour; disable the fuel. Eye protection on, wheels chocked, neutral or park, parking brake set. Local codes, the school's shop-safety rules, the vehicle maker's service information and the supervising instructor come first; work on a real vehicle is for people trained and licensed for it.}}\par\smallskip`)
	p(`\textbf{Tests at the numbered points} {\footnotesize Cells are lines to ask for.}\par`)
	p(`{\footnotesize\begin{tabular}{|r|p{38mm}|r|%s}\hline`, strings.Repeat("c|", len(h.Reference.Columns)))
	p(`&&`)
	for _, c := range h.Reference.Columns {
		p(`&\rotatebox{90}{\parbox{22mm}{\raggedright\scriptsize %s, %s}}`, escape.Replace(c.Label),
			escape.Replace(c.Condition))
	}
	p(`\\\hline &minutes&+`)
	for _, c := range h.Reference.Columns {
		p(`&%.1f`, float64(c.Minutes)/10)
	}
	p(`\\\hline`)
	for i, cells := range w.Grid {
		used := false
		for _, c := range cells {
			used = used || c.Line != 0
		}
		if !used {
			continue
		}
		point := h.Reference.Points[i]
		p(`%d&%s&%.1f`, point.Number, escape.Replace(point.Label), float64(point.Access)/10)
		for _, c := range cells {
			if c.Line == 0 {
				p(`&-`)
			} else {
				p(`&%03d`, c.Line)
			}
		}
		p(`\\\hline`)
	}
	p(`\end{tabular}}\par\smallskip`)
	p(`\begin{multicols}{2}\footnotesize`)
	for _, t := range w.Tables {
		p(`\textbf{%s}\par`, escape.Replace(t.Heading))
		for _, r := range t.Rows {
			p(`%s, %s, %s\dotfill %.1f\quad %03d\par`, escape.Replace(r.Label), escape.Replace(r.Meter),
				escape.Replace(r.Condition), float64(r.Minutes)/10, r.Line)
		}
	}
	p(`\end{multicols}`)
	p(`\textbf{Record}\par{\renewcommand\arraystretch{2.2}\begin{tabular}{|r|p{45mm}|p{30mm}|p{12mm}|p{14mm}|p{24mm}|p{12mm}|p{30mm}|}\hline`)
	p(`&test&expected&line&letters&reading&OK&rules out\\\hline`)
	for i := range h.Rows {
		p(`%d&&&&&&&\\\hline`, i+1)
	}
	p(`\end{tabular}}\par\medskip\textbf{Conclusion} Repair, code and letters: \rule{30mm}{0.3pt} Reason: \rule{90mm}{0.3pt}\par\clearpage`)
}
