package evidence

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"nospark/grading"
)

// Bounds of what a record may hold. They are far above what a lab gives and keep a damaged file from costing more than
// its size.
const (
	LongestText   = 2000     // bytes
	LargestRecord = 64 << 20 // bytes of a file: a section of two thousand has some 3 MB
	mostSteps     = 10_000   // of a sheet
	mostVehicles  = 1000     // of a student in a lab
	mostTenths    = 1 << 40  // of a minute
)

// sound finds the first thing wrong in a record that was read from a file, so that nobody after it needs to look.
func (r *Record) sound() error {
	if r.Lab == "" || r.Term == "" {
		return errors.New("names no lab or no term")
	}
	if _, err := time.Parse(time.DateOnly, r.Date); err != nil {
		return fmt.Errorf("has the date %q; want a day such as 2026-10-05", r.Date)
	}
	if r.Reference < 1 || r.Reference > mostTenths || r.Version < 0 {
		return fmt.Errorf("has reference %d or pack version %d out of range", r.Reference, r.Version)
	}
	for _, text := range []string{r.Program, r.Term, r.Lab, r.Title, r.Section, r.Pack, r.Instructor, r.Course,
		r.Campus, r.Cohort} {
		if len(text) > LongestText {
			return fmt.Errorf("has a text of %d bytes, at most %d are read", len(text), LongestText)
		}
	}
	// The same vehicle twice in a record would count twice in every share.
	type vehicle struct {
		student string
		number  int
	}
	seen := map[vehicle]bool{}
	for i := range r.Students {
		e := &r.Students[i]
		v := vehicle{e.Student, e.Vehicle}
		if seen[v] {
			return fmt.Errorf("has student %q twice", e.Student)
		}
		seen[v] = true
		if err := e.sound(); err != nil {
			return fmt.Errorf("student %q: %w", e.Student, err)
		}
	}
	return nil
}

// sound checks one student: every number is a number and within what a sheet can give, so that
// no sum or share over a term can be spoilt by one file.
func (e *Entry) sound() error {
	// In the order of the fields, so that the first complaint is the first thing to look at.
	states := []grading.Status{grading.Graded, grading.Provisional, grading.Blank, grading.Excused}
	switch {
	case e.Student == "":
		return errors.New("an entry without an id")
	case !slices.Contains(states, e.Status):
		return fmt.Errorf("status %q; want graded, provisional, blank or excused", e.Status)
	case e.Vehicle < 0 || e.Vehicle > mostVehicles:
		return fmt.Errorf("vehicle %d", e.Vehicle)
	case !within(e.Mark, 0, 100):
		return fmt.Errorf("mark %v; want 0 to 100", e.Mark)
	case e.Agreed < 0 || e.Asked < e.Agreed || e.Asked > mostSteps:
		return fmt.Errorf("%d verdicts of %d agree", e.Agreed, e.Asked)
	case e.Minutes < 0 || e.Minutes > mostTenths || e.Best < 0 || e.Best > mostTenths:
		return fmt.Errorf("%d and %d tenths of a minute", e.Minutes, e.Best)
	case e.Status != grading.Graded && len(e.Evidence) > 0:
		return fmt.Errorf("evidence of a sheet that is %s", e.Status)
	}
	p := e.Parts
	for _, v := range []float64{p.Evidence, p.Diagnosis, p.Efficiency, p.Interpretation, p.Reasoning, p.Safety} {
		if !within(v, 0, 100) {
			return fmt.Errorf("a part of the mark is %v; want 0 to 100", v)
		}
	}
	for _, v := range []float64{e.LostSteps, e.LostEarly, e.LostWrong} {
		if !within(v, 0, mostTenths) {
			return fmt.Errorf("%v tenths of a minute lost", v)
		}
	}
	for _, text := range []string{e.Student, e.Name, e.Family, e.Sheet, e.Complaint, e.Fault, e.Label, e.Repair,
		e.Concluded} {
		if len(text) > LongestText {
			return fmt.Errorf("a text of %d bytes, at most %d are read", len(text), LongestText)
		}
	}
	// The rule counts opportunities, so that two of one sheet would pass for two labs.
	for i, x := range e.Evidence {
		switch {
		case x.Competency == "":
			return fmt.Errorf("evidence %d names no competency", i+1)
		case slices.ContainsFunc(e.Evidence[:i], func(o Item) bool { return o.Competency == x.Competency }):
			return fmt.Errorf("two opportunities of %q; a sheet gives one", x.Competency)
		case x.Step < 0 || x.Step > mostSteps:
			return fmt.Errorf("evidence of %q from step %d", x.Competency, x.Step)
		case len(x.Competency)+len(x.Test)+len(x.Why) > 3*LongestText:
			return fmt.Errorf("evidence of %q is too long", x.Competency)
		}
	}
	return nil
}

// within is false for a number that is none.
func within(v, low, high float64) bool { return !math.IsNaN(v) && v >= low && v <= high }
