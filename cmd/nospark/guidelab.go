package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"nospark/scenarios/disk"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// beginTerm makes a folder for a class.
func (g *guide) beginTerm() (dir string, err error) {
	name, err := g.ask("\nWhat shall the folder of the term be called?", filepath.Base(g.free("term")))
	if err != nil {
		return "", err
	}
	dir = filepath.Join(g.base, name)
	if filepath.IsAbs(name) {
		dir = name
	}
	if err := newTerm(g.ctx, dir, time.Now(), defaultYears); err != nil {
		return "", err
	}
	g.out.line("%s is ready.", dir)
	g.out.line("Keep a copy of %s in a safe place and give it to nobody: all answers follow from it.",
		filepath.Join(dir, term.KeyFile))
	g.out.line("Labs and records are kept for %d years (retain_until in %s).", defaultYears,
		filepath.Join(dir, term.File))
	return dir, nil
}

// terms lists the folders of terms in the folder of work, without demos: their key is published.
func (g *guide) terms() []string {
	files, _ := filepath.Glob(filepath.Join(escaped(g.base), "*", term.File)) // the pattern is sound
	var dirs []string
	for _, f := range append([]string{filepath.Join(g.base, term.File)}, files...) {
		if t, err := term.Read(filepath.Dir(f)); err == nil && t.ID != demoTerm {
			dirs = append(dirs, filepath.Dir(f))
		}
	}
	return dirs
}

// makeLab asks for what a plan needs, writes it and builds the lab.
func (g *guide) makeLab() error {
	dir, err := g.whichTerm()
	if err != nil {
		return err
	}
	class, sheets, err := g.whichClass(dir)
	if err != nil {
		return err
	}
	name, err := g.whichPack()
	if err != nil {
		return err
	}
	p, err := pack.Load(name)
	if err != nil {
		return err
	}
	labels := make([]string, 0, len(p.Complaints)+1)
	for _, c := range p.Complaints {
		labels = append(labels, c.Label)
	}
	at, err := g.choose("What does the customer report?", append(labels, "whatever can hide most different faults"),
		len(labels)+1)
	if err != nil {
		return err
	}
	date, err := g.whichDay()
	if err != nil {
		return err
	}
	title := p.Title
	var plan strings.Builder
	if at <= len(labels) {
		title = strings.TrimSuffix(labels[at-1], ".")
	}
	fmt.Fprintf(&plan, "# Further things that a plan can ask for stand in the README.\n\ntitle = %s\ndate = %s\npack "+
		"= %q\n", quoted(title), date, name)
	if at <= len(labels) {
		fmt.Fprintf(&plan, "complaint = %q\n", p.Complaints[at-1].ID)
	}
	if class != "" {
		fmt.Fprintf(&plan, "roster = %s\n", quoted(class))
	}
	fmt.Fprintf(&plan, "spares = %d\n", sheets)
	path := nextPlan(dir)
	if err := disk.Write(path, []byte(plan.String()), 0o644); err != nil {
		return err
	}
	g.out.line("\nThe plan is %s. Building takes up to a minute.", path)
	b, folder, err := buildPlan(g.ctx, path, false, g.errOut)
	if err != nil {
		return err
	}
	return g.tellPrint(b, folder)
}

// quoted writes a text for a plan.
func quoted(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

// whichTerm asks for the term; without any it makes one.
func (g *guide) whichTerm() (string, error) {
	dirs := g.terms()
	switch len(dirs) {
	case 0:
		g.out.line("\nA lab belongs to a term, and there is none yet.")
		return g.beginTerm()
	case 1:
		g.out.line("\nThe term is %s", dirs[0])
		return dirs[0], nil
	}
	at, err := g.choose("For which term?", dirs, len(dirs))
	if err != nil {
		return "", err
	}
	return dirs[at-1], nil
}

// spareSheets are made beside those of a class list, for guests and lost papers.
const spareSheets = 2

// whichClass asks for the class list unless the term has one; else for a number of sheets without names.
func (g *guide) whichClass(dir string) (list string, sheets int, err error) {
	usual := filepath.Join(dir, term.RosterFile)
	if r, err := roster.Read(usual, roster.Options{}); err == nil && len(r.Students) > 0 {
		g.out.line("The class list %s has %d students.", usual, len(r.Students))
		return "", spareSheets, nil
	}
	at, err := g.choose("Who gets a sheet?", []string{
		"a class list: a CSV file with the columns id, name and section, an export of the gradebook, or a OneRoster zip",
		"nobody by name: a number of sheets that anybody can take"}, 1)
	if err != nil {
		return "", 0, err
	}
	for at == 1 {
		path, err := g.ask("Drag the file onto this window, or type its path, and press Enter", "")
		if err != nil {
			return "", 0, err
		}
		if path = dragged(path); path == "" {
			continue
		}
		r, err := roster.Read(path, roster.Options{})
		switch {
		case err != nil:
			g.out.line("%s", err.Error())
		case len(r.Students) == 0:
			g.out.line("%s has no students.", path)
		default:
			g.out.line("%d students.", len(r.Students))
			path, err = filepath.Abs(path)
			return path, spareSheets, err
		}
	}
	for {
		answer, err := g.ask("How many sheets?", "24")
		if err != nil {
			return "", 0, err
		}
		if sheets, err = strconv.Atoi(answer); err == nil && sheets >= 1 && sheets <= 300 {
			return "", sheets, withoutClass(usual)
		}
		g.out.line("Type a number from 1 to 300.")
	}
}

// withoutClass takes the class list away that every term begins with, unless somebody has written in it: sheets without
// names need none, and an empty one is a mistake.
func withoutClass(list string) error {
	template, err := start.ReadFile("start/" + term.RosterFile)
	if err != nil {
		return err
	}
	if text, err := os.ReadFile(list); err == nil && string(text) == string(template) {
		return os.Remove(list)
	}
	return nil
}

// dragged is the path of a file as a terminal writes it when somebody drops the file on it: in quotes, or with a stroke
// before what means something to a shell.
func dragged(text string) string {
	for _, quote := range []string{`"`, `'`} {
		if inner, ok := strings.CutPrefix(text, quote); ok && strings.HasSuffix(inner, quote) {
			return strings.TrimSuffix(inner, quote)
		}
	}
	if filepath.Separator == '/' {
		return regexp.MustCompile(`\\(.)`).ReplaceAllString(text, "$1")
	}
	return text
}

// whichPack asks for a built-in pack.
func (g *guide) whichPack() (string, error) {
	names := pack.Builtin()
	var titles []string
	usual := 1
	for i, name := range names {
		p, err := pack.Load(name)
		if err != nil {
			return "", err
		}
		titles = append(titles, p.Title)
		if name == "single-coil" {
			usual = i + 1
		}
	}
	at, err := g.choose("Which system?", titles, usual)
	if err != nil {
		return "", err
	}
	return names[at-1], nil
}

// whichDay asks for the day of the lab.
func (g *guide) whichDay() (string, error) {
	for {
		day, err := g.ask("\nOn which day is the lab? Year, month, day", time.Now().Format(time.DateOnly))
		if err != nil {
			return "", err
		}
		if _, err := time.Parse(time.DateOnly, day); err == nil {
			return day, nil
		}
		g.out.line("Write it like 2026-09-07.")
	}
}

// nextPlan is the path for the next plan of a term: week01 as long as it is the one that every term begins with and
// nothing was built from it.
func nextPlan(dir string) string {
	for n := 1; ; n++ {
		name := fmt.Sprintf("week%02d", n)
		path := filepath.Join(dir, "plans", name+".toml")
		_, planErr := os.Lstat(path)
		_, labErr := os.Lstat(filepath.Join(dir, term.LabsFolder, name))
		if labErr != nil && (planErr != nil || isUntouched(path)) {
			return path
		}
	}
}

// isUntouched tells whether a plan is the one that a term begins with, as it came.
func isUntouched(path string) bool {
	template, err := start.ReadFile("start/week01.toml")
	if err != nil {
		return false
	}
	text, err := os.ReadFile(path)
	date := regexp.MustCompile(`(?m)^date = \d{4}-\d\d-\d\d$`)
	return err == nil && date.ReplaceAllString(string(text), "date = {{DATE}}") == string(template)
}

// tellPrint says what to print and for whom.
func (g *guide) tellPrint(b *built, folder string) error {
	g.out.line("\n%d sheets are ready. Print these:\n", len(b.lab.Sheets))
	for _, part := range []struct{ folder, whom string }{
		{"handouts", "for the students"}, {"partners", "for the partners, who answer with the readings; never for " +
			"the student's own eyes"},
	} {
		files, _ := filepath.Glob(filepath.Join(escaped(folder), part.folder, "*.pdf")) // the pattern is sound
		slices.Sort(files)
		for _, f := range files {
			g.out.line("  %s", f)
		}
		g.out.line("      %s\n", part.whom)
	}
	g.out.line("Read %s first: it is one page and says how to run the lab.", filepath.Join(folder, "instructor",
		"how-to-run.pdf"))
	g.out.line("Everything in %s is for you alone.", filepath.Join(folder, "instructor"))
	g.out.line("After the lab type the steps into the form in %s, start this program again and mark the lab.",
		filepath.Join(folder, "entries"))
	for _, n := range b.report.Notes {
		g.out.line("Note: %s", n)
	}
	return g.offerFolder(folder)
}

// whichLab asks for one of the labs of all terms, "" where there is none.
func (g *guide) whichLab() (string, error) {
	var labs []string
	for _, dir := range g.terms() {
		labs = append(labs, labsOf(dir)...)
	}
	if len(labs) == 0 {
		g.out.line("\nThere is no lab yet in the terms in %s", g.base)
		return "", nil
	}
	at, err := g.choose("Which lab?", labs, len(labs))
	if err != nil {
		return "", err
	}
	return labs[at-1], nil
}

// runLab serves a lab until somebody presses Ctrl-C, with which the conversation ends too.
func (g *guide) runLab() error {
	folder, err := g.whichLab()
	if err != nil || folder == "" {
		return err
	}
	g.out.line("\nPrint %s and cut it into strips, one for each student.", filepath.Join(folder, "instructor",
		"claims.pdf"))
	g.out.line("Press Ctrl-C here when the lesson is over; nothing is lost. Then start this program again and mark " +
		"the lab.\n")
	if err := serve(g.cmd, folder, serving{}); err != nil {
		return err
	}
	return errLeft
}

// markLab grades what was handed in.
func (g *guide) markLab() error {
	folder, err := g.whichLab()
	if err != nil || folder == "" {
		return err
	}
	graded, err := gradeLab(g.ctx, folder, asking{in: g.in, out: g.errOut})
	if err != nil {
		return err
	}
	for _, note := range graded.notes {
		g.out.line("Note: %s", note)
	}
	if err := tellGrade(g.out.out, folder, graded); err != nil {
		return err
	}
	return g.offerFolder(filepath.Join(folder, "graded"))
}
