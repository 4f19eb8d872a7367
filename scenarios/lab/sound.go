package lab

import (
	"fmt"
	"slices"

	"nospark/scenarios/disk"
	"nospark/scenarios/isolation"
)

// checker finds the first thing wrong in a lab that was read from a file, so that nobody after it needs to look.
type checker struct{ err error }

func (c *checker) want(ok bool, format string, args ...any) {
	if !ok && c.err == nil {
		c.err = fmt.Errorf(format, args...)
	}
}

// index wants i to lead into a list of n, or to be -1 where that means none.
func (c *checker) index(i, low, n int, format string, args ...any) {
	c.want(i >= low && i < n, "%s leads outside: %d of %d", fmt.Sprintf(format, args...), i, n)
}

// sound checks that all indexes lead somewhere and that lists which belong together have equal lengths.
func (l *Lab) sound() error {
	c := new(checker)
	if err := disk.CheckName(l.Name); err != nil {
		return err
	}
	c.want(l.Paper == "letter" || l.Paper == "a4", "paper %q is neither letter nor a4", l.Paper)
	c.want(l.Rows >= 1 && l.Rows <= 100, "%d rows of the record table", l.Rows)
	c.want(l.Rubric.Sum() == 100, "the rubric sums to %d", l.Rubric.Sum())
	c.want(len(l.Tests) > 0 && len(l.Tests) <= MaxLines, "%d tests", len(l.Tests))
	c.want(len(l.Hypotheses) > 0 && len(l.Hypotheses) <= isolation.MaxHypotheses, "%d hypotheses", len(l.Hypotheses))
	l.soundTests(c)
	for i, f := range l.Faults {
		c.index(f.Repair, 0, len(l.Repairs), "the repair of fault %d", i)
	}
	for i, h := range l.Hypotheses {
		c.index(h.Fault, 0, len(l.Faults), "the fault of hypothesis %d", i)
		c.index(h.Complaint, -1, len(l.Complaints), "the complaint of hypothesis %d", i)
		c.want(h.Weight > 0, "hypothesis %d has weight %d", i, h.Weight)
		c.want(len(h.Bands) == len(l.Tests), "hypothesis %d has %d bands for %d tests", i, len(h.Bands), len(l.Tests))
		for _, k := range h.Checks {
			c.index(k, 0, len(l.Checks), "a check of hypothesis %d", i)
		}
		for t := 0; t < len(h.Bands) && c.err == nil; t++ { // with unequal lengths there is no test t
			c.index(int(h.Bands[t])-'0', 0, len(l.Tests[t].Bands), "band of hypothesis %d in test %d", i, t)
		}
	}
	l.soundCases(c)
	l.soundBooklet(c)
	codes := map[string]bool{}
	for i := range l.Sheets {
		l.soundSheet(c, i)
		c.want(!codes[l.Sheets[i].Code], "two sheets have the code %q", l.Sheets[i].Code)
		codes[l.Sheets[i].Code] = true
	}
	for i, s := range l.Sheets {
		c.want(s.Holder == "" || codes[s.Holder], "the readings of sheet %d are held by %q, which is no sheet", i,
			s.Holder)
	}
	return c.err
}

func (l *Lab) soundTests(c *checker) {
	for i, t := range l.Tests {
		c.want(t.Minutes > 0, "test %d takes %d minutes", i, t.Minutes)
		c.index(t.Column, -1, len(l.Columns), "the column of test %d", i)
		c.index(t.Point, -1, len(l.Points), "the point of test %d", i)
		c.index(t.Compare, -1, len(l.Tests), "the compared test of test %d", i)
		c.want(t.Column < 0 || t.Point >= 0, "test %d has a column and no point", i)
		c.want(len(t.Bands) > 0 && len(t.Bands) <= maxBands, "test %d has %d bands", i, len(t.Bands))
	}
}

// soundCases checks the cases and the checks.
func (l *Lab) soundCases(c *checker) {
	for i, k := range l.Checks {
		c.index(k.Point, -1, len(l.Points), "the point of check %d", i)
		for _, t := range k.Tests {
			c.index(t, 0, len(l.Tests), "a test of check %d", i)
		}
		for _, u := range k.Under {
			c.index(u, 0, len(l.Complaints), "a complaint of check %d", i)
		}
	}
	for i, k := range l.Cases {
		c.index(k.Complaint, 0, len(l.Complaints), "the complaint of case %d", i)
		c.want(k.Reference >= 0 && k.Reference < 1e6, "case %d has a reference of %v tenths", i, k.Reference)
		for j := 0; j < len(k.Known) && c.err == nil; j++ { // without the test there are no bands to count
			c.index(k.Known[j].Test, 0, len(l.Tests), "a known reading of case %d", i)
			if c.err == nil {
				c.index(int(k.Known[j].Band), 0, len(l.Tests[k.Known[j].Test].Bands),
					"the band of a known reading of case %d", i)
			}
		}
	}
	c.want(l.Format < FirstWithCases || len(l.Cases) > 0, "a lab without a case")
	c.want(l.Vehicles >= 0 && l.Vehicles <= 9, "%d vehicles a student", l.Vehicles)
}

// soundBooklet checks what the booklet says of the repairs.
func (l *Lab) soundBooklet(c *checker) {
	if l.Booklet == nil {
		c.want(l.Format < FirstWithBooklet, "a lab without a booklet")
		return
	}
	c.want(len(l.Booklet.Proofs) == len(l.Repairs), "the booklet has %d proofs for %d repairs", len(l.Booklet.Proofs),
		len(l.Repairs))
	for i, k := range l.Booklet.Checks {
		c.index(k.Point, -1, len(l.Points), "the point of check %d of the booklet", i)
	}
	for i, list := range append(slices.Clone(l.Booklet.Proofs), l.Booklet.Never) {
		for _, k := range list {
			c.index(k, 0, len(l.Booklet.Checks), "a check of list %d of the booklet", i)
		}
	}
}

// maxBands keeps the characters of Hypothesis.Bands within one byte.
const maxBands = 64

func (l *Lab) soundSheet(c *checker, i int) {
	s := &l.Sheets[i]
	c.want(s.Code != "", "sheet %d has no code", i)
	c.index(s.Complaint, 0, len(l.Complaints), "the complaint of sheet %d", i)
	c.index(s.Truth, 0, len(l.Hypotheses), "the truth of sheet %d", i)
	if l.Format >= FirstWithCases {
		c.index(s.Case, 0, len(l.Cases), "the case of sheet %d", i)
		c.want(c.err != nil || s.Complaint == l.Cases[s.Case].Complaint, "sheet %d has another complaint than its case",
			i)
	}
	c.want(len(s.Lines) == len(l.Tests), "sheet %d has %d lines for %d tests", i, len(s.Lines), len(l.Tests))
	var taken [1000]bool
	for _, t := range s.Traces {
		c.want(t.Test >= 0 && t.Test < len(l.Tests) && len(t.X) == len(t.Y) && len(t.X) > 0,
			"sheet %d has a picture that is not whole", i)
	}
	for t := 0; t < len(s.Lines) && c.err == nil; t++ {
		n := s.Lines[t].Number
		if n < 100 || n > 999 || taken[n] {
			c.want(false, "sheet %d has a line %d, or two of them", i, n)
			return
		}
		taken[n] = true
		c.index(int(s.Lines[t].Band), 0, len(l.Tests[t].Bands), "band of sheet %d in line %d", i, s.Lines[t].Number)
	}
}
