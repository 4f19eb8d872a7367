package competency

import (
	"fmt"

	"nospark/grading/evidence"
	"nospark/grading/statistics"
	"nospark/scenarios"
)

// Status is where a student stands in a competency.
type Status uint8

// A student is competent by the rule of mastery; may be signed for, because only the signature is missing; is not yet
// competent; or has had too few opportunities for the rule to say anything.
const (
	TooLittle Status = iota
	NotYet
	ToSign
	Competent
)

// String gives the words for people.
func (s Status) String() string {
	switch s {
	case Competent:
		return "competent"
	case ToSign:
		return "to be signed"
	case NotYet:
		return "not yet"
	}
	return "too few"
}

// Direction tells whether a student meets more than before.
type Direction uint8

// With fewer than leastForDirection opportunities nothing is said.
const (
	Unclear Direction = iota
	Better
	Steady
	Worse
)

// String gives the words for people.
func (d Direction) String() string {
	switch d {
	case Better:
		return "better"
	case Steady:
		return "steady"
	case Worse:
		return "worse"
	}
	return "too few to say"
}

// leastForDirection is how many opportunities a comparison of two halves needs. Practice of this project, no source.
const leastForDirection = 4

// Opportunity is one piece of evidence with where it comes from.
type Opportunity struct {
	Record   *evidence.Record
	Entry    *evidence.Entry
	Evidence *evidence.Item
}

// Standing is one student in one competency. judge fills in what follows from Opportunities and Signed.
type Standing struct {
	Opportunities []Opportunity // all that count, oldest first
	Earlier       []Opportunity // of an earlier cohort, whether they count or not
	Met           int           // of all
	// how many of the last opportunities the rule looks at: the rule's number, or all there are
	Window      int
	MetInWindow int
	Labs        int // different labs that the window comes from
	Status      Status
	Signed      *SignOff // nil: not signed
	// decaying average of met (1) and not met (0), NaN without an opportunity; never decides anything
	Trend     float64
	Direction Direction
}

// judge applies the rule of mastery: met of the last of opportunities, from at least labs different labs, and signed.
func (s *Standing) judge(rule scenarios.Mastery) {
	n := len(s.Opportunities)
	s.Window = min(n, rule.Of)
	labs := map[[2]string]bool{}
	met := make([]bool, n)
	for i, o := range s.Opportunities {
		met[i] = o.Evidence.Met
		if met[i] {
			s.Met++
		}
		if i < n-s.Window {
			continue
		}
		labs[[2]string{o.Record.Term, o.Record.Lab}] = true
		if met[i] {
			s.MetInWindow++
		}
	}
	s.Labs = len(labs)
	s.Trend, s.Direction = trend(met), direction(met)
	switch {
	case n < rule.Of:
		s.Status = TooLittle
	case s.MetInWindow < rule.Met || s.Labs < rule.Labs:
		s.Status = NotYet
	case rule.Signed && s.Signed == nil:
		s.Status = ToSign
	default:
		s.Status = Competent
	}
}

// trend is the decaying average of met (1) and not met (0), oldest first.
func trend(met []bool) float64 {
	values := make([]float64, len(met))
	for i, m := range met {
		if m {
			values[i] = 1
		}
	}
	return statistics.Decaying(values)
}

// direction compares how many of the later half were met with how many of the earlier half; of an odd number the middle
// one is left out.
func direction(met []bool) Direction {
	n := len(met)
	if n < leastForDirection {
		return Unclear
	}
	count := func(part []bool) (sum int) {
		for _, m := range part {
			if m {
				sum++
			}
		}
		return sum
	}
	switch before, after := count(met[:n/2]), count(met[n-n/2:]); {
	case after > before:
		return Better
	case after < before:
		return Worse
	}
	return Steady
}

// History writes the opportunities as signs, oldest first, at most the last n: ✗✓✓.
func (s *Standing) History(n int) string {
	text := ""
	for _, o := range s.Opportunities[max(0, len(s.Opportunities)-n):] {
		text += Sign(o.Evidence.Met)
	}
	return text
}

// Sign is ✓ for met and ✗ for not met.
func Sign(met bool) string {
	if met {
		return "✓"
	}
	return "✗"
}

// OnPaper is the sentence that everything made from records carries, so that nobody takes a table for more than it is.
const OnPaper = "Evidence of diagnostic reasoning on paper, not of hands-on performance."

// RuleWords says a rule of mastery in words.
func RuleWords(m scenarios.Mastery) string {
	labs := "1 lab"
	if m.Labs != 1 {
		labs = fmt.Sprintf("%d different labs", m.Labs)
	}
	text := fmt.Sprintf("at least %d of the last %d opportunities met, from at least %s", m.Met, m.Of, labs)
	if m.Signed {
		text += ", and signed by the instructor"
	}
	return text
}

// LatestMissed tells that the latest opportunity was not met; the count can be reached all the same.
func (s *Standing) LatestMissed() bool {
	n := len(s.Opportunities)
	return n > 0 && !s.Opportunities[n-1].Evidence.Met
}

// whyTooLittle says how many opportunities are missing and how many of them have to be met. Where that is not enough,
// because too many were missed before, more opportunities have to follow until the oldest leave the window, so the
// whole rule is said.
func (s *Standing) whyTooLittle(rule scenarios.Mastery) string {
	missing, toMeet := rule.Of-len(s.Opportunities), rule.Met-s.MetInWindow
	text := "1 more opportunity"
	if missing > 1 {
		text = fmt.Sprintf("%d more opportunities", missing)
	}
	switch {
	case toMeet > missing:
		return fmt.Sprintf("%s, and %d of the last %d must be met", text, rule.Met, rule.Of)
	case toMeet <= 0:
		return text
	case missing == 1:
		return text + ", met"
	case toMeet == missing:
		return text + ", all met"
	}
	return fmt.Sprintf("%s, at least %d met", text, toMeet)
}

// Why says what is missing, "" for a competent student.
func (s *Standing) Why(rule scenarios.Mastery) string {
	switch {
	case s.Status == Competent:
		return ""
	case s.Status == ToSign:
		if s.LatestMissed() {
			return "signature of the instructor; the latest was missed"
		}
		return "signature of the instructor"
	case s.Status == TooLittle:
		return s.whyTooLittle(rule)
	case s.MetInWindow < rule.Met:
		return fmt.Sprintf("%d of the last %d met, %d are needed", s.MetInWindow, s.Window, rule.Met)
	}
	return fmt.Sprintf("the last %d come from %d labs, %d are needed", s.Window, s.Labs, rule.Labs)
}
