package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"nospark/grading/players"
	"nospark/grading/submission"
	"nospark/scenarios/build"
	"nospark/scenarios/draw"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

const planText = "title = \"No start\"\ndate = 2026-09-07\npack = \"single-coil\"\ncomplaint = \"no-start\"\n"

// key is fixed, so that every run measures the same labs.
func key() term.Key { return term.Key{7, 7, 7} }

func students(n int) []roster.Student {
	var list []roster.Student
	for i := range n {
		list = append(list, roster.Student{ID: fmt.Sprint(100000 + i), Name: fmt.Sprintf("Student %04d", i),
			Section: fmt.Sprintf("S%02d", i/25)})
	}
	return list
}

// class builds a lab in memory.
func class(n int) (*lab.Lab, error) {
	plan, err := term.ParsePlan("week01.toml", planText)
	if err != nil {
		return nil, err
	}
	source, err := pack.Source("single-coil")
	if err != nil {
		return nil, err
	}
	lab, _, err := build.Lab(context.Background(),
		build.Input{
			Term: term.Term{ID: "scale", Program: "Automotive Technology", Paper: "letter",
				Rubric: term.DefaultRubric(), Mastery: term.DefaultMastery()},
			Plan: plan, Students: students(n), Key: key(), PackFile: "pack", Pack: string(source),
		})
	return lab, err
}

// play lets students of all skills work.
func play(lab *lab.Lab) ([]submission.Row, error) {
	c, err := players.New(lab)
	if err != nil {
		return nil, err
	}
	skills := players.Skills()
	k := key()
	var rows []submission.Row
	for i := range lab.Sheets {
		rows = append(rows, c.Play(i, skills[i%len(skills)], draw.New(k[:], "play", lab.Sheets[i].Student).Intn))
	}
	return rows, nil
}

// measured is a school of one size.
type measured struct {
	n            int
	build, grade cost
}

// schools builds and grades labs of growing size with the program itself, from the plan to the last file, and fits how
// it grows. Memory is the most that the process had.
func schools(folder string) error {
	fmt.Printf("  %8s   %-42s   %-42s\n", "sheets", "build: clock, processor, per sheet, memory",
		"grade: clock, processor, per sheet, memory")
	var all []measured
	for _, n := range []int{24, 250, 500, 1000, 2000} {
		m, err := school(folder, n)
		if err != nil {
			return err
		}
		all = append(all, m)
		fmt.Printf("  %8d   %s   %s\n", n, m.build.line(n), m.grade.line(n))
	}
	large := all[1:]
	bar := func(what string, value, most float64, unit string) {
		verdict := "met"
		if value > most {
			verdict = "missed"
		}
		fmt.Printf("  %-46s %8.2f %-3s   bar %g: %s\n", what, value, unit, most, verdict)
	}
	bar("growth of building, exponent (processor)",
		exponent(large, func(m measured) float64 { return m.build.processor.Seconds() }), 1.1, "")
	bar("growth of grading, exponent (processor)",
		exponent(large, func(m measured) float64 { return m.grade.processor.Seconds() }), 1.1, "")
	last := all[len(all)-1]
	bar("2,000 built, clock", last.build.clock.Seconds(), 60, "s")
	bar("2,000 built, processor on two cores", last.build.processor.Seconds()/2, 60, "s")
	bar("2,000 built, memory", last.build.megabytes, 300, "MB")
	bar("2,000 graded, clock", last.grade.clock.Seconds(), 10, "s")
	bar("2,000 graded, processor on two cores", last.grade.processor.Seconds()/2, 10, "s")
	return nil
}

func (c cost) line(n int) string {
	return fmt.Sprintf("%7.2f s %7.2f s %7.2f ms %6.0f MB", c.clock.Seconds(), c.processor.Seconds(),
		c.processor.Seconds()*1000/float64(n), c.megabytes)
}

// exponent is the slope of the straight line through the logarithms, by least squares.
func exponent(list []measured, value func(measured) float64) float64 {
	var sx, sy, sxx, sxy float64
	for _, m := range list {
		x, y := math.Log(float64(m.n)), math.Log(value(m))
		sx, sy, sxx, sxy = sx+x, sy+y, sxx+x*x, sxy+x*y
	}
	n := float64(len(list))
	return (n*sxy - sx*sy) / (n*sxx - sx*sx)
}

func school(folder string, n int) (measured, error) {
	m := measured{n: n}
	dir := filepath.Join(folder, fmt.Sprint("term", n, "-", time.Now().UnixNano()))
	defer os.RemoveAll(dir)
	program := filepath.Join(folder, "nospark")
	if _, err := execute(exec.Command(program, "new", dir)); err != nil {
		return m, err
	}
	list, err := os.Create(filepath.Join(dir, "roster.csv"))
	if err != nil {
		return m, err
	}
	fmt.Fprintln(list, "id,name,section")
	for _, s := range students(n) {
		fmt.Fprintf(list, "%s,%s,%s\n", s.ID, s.Name, s.Section)
	}
	if err := list.Close(); err != nil {
		return m, err
	}
	plan := filepath.Join(dir, "plans", "week01.toml")
	if err := os.WriteFile(plan, []byte(planText), 0o644); err != nil {
		return m, err
	}
	if m.build, err = execute(exec.Command(program, "build", plan)); err != nil {
		return m, err
	}
	lab := filepath.Join(dir, "labs", "week01")
	if err := handIn(lab); err != nil {
		return m, err
	}
	m.grade, err = execute(exec.Command(program, "grade", lab))
	return m, err
}

// handIn writes what a class hands in as one CSV file.
func handIn(folder string) error {
	lab, err := lab.Read(filepath.Join(folder, lab.File))
	if err != nil {
		return err
	}
	rows, err := play(lab)
	if err != nil {
		return err
	}
	f, err := os.Create(filepath.Join(folder, "entries", "class.csv"))
	if err != nil {
		return err
	}
	w := csv.NewWriter(f)
	w.Write([]string{"id", "sheet", "repair", "steps"})
	for _, r := range rows {
		fields := []string{r.Student, r.Sheet, r.Repair}
		for _, s := range r.Steps {
			fields = append(fields, fmt.Sprintf("%03d%s%s", s.Line, s.Letters, s.Judged))
		}
		w.Write(fields)
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return err
	}
	return f.Close()
}
