package competency

import (
	"fmt"

	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// Status is where a student stands in a competency.
type Status uint8

// A student is competent by the rule of mastery or by an award; may be signed for, because only the signature is
// missing; is not yet competent; or has had too few opportunities for the rule to say anything, and is at risk where so
// many of those were missed that the next ones cannot make up for them. What is shown with the hands is never signed
// from here.
const (
	TooLittle Status = iota
	AtRisk
	NotYet
	ToSign
	HandsOn
	Competent
	Statuses // how many there are
)

// String gives the words for people.
func (s Status) String() string {
	switch s {
	case Competent:
		return "competent"
	case ToSign:
		return "to be signed"
	case HandsOn:
		return "at the vehicle"
	case NotYet:
		return "not yet"
	case AtRisk:
		return "at risk"
	}
	return "too few"
}

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
	Window        int
	MetInWindow   int
	Faults, Packs int // different ones among those met in the window
	Labs          int // different labs that the window comes from
	Status        Status
	Computed      Status         // by the rule as of now; differs from Status where an award says otherwise
	Signed        *lists.SignOff // nil: not signed
	Award         *lists.Award   // nil: none
}

// judge applies the rule of mastery: met of the last of opportunities, the met ones on different faults and packs, and
// signed. What is shown with the hands gets no further than a hint to sign it at the vehicle.
func (s *Standing) judge(rule term.Mastery, handsOn bool) {
	s.count(rule)
	n := len(s.Opportunities)
	switch missed := n - s.MetInWindow; {
	case n < rule.Of && missed > rule.Of-rule.Met:
		s.Computed = AtRisk
	case n < rule.Of:
		s.Computed = TooLittle
	case s.MetInWindow < rule.Met || s.Faults < rule.Faults || s.Packs < rule.Packs || s.Labs < rule.Labs:
		s.Computed = NotYet
	case handsOn:
		s.Computed = HandsOn
	case rule.Signed && s.Signed == nil:
		s.Computed = ToSign
	default:
		s.Computed = Competent
	}
	s.Status = s.Computed
	if s.Award != nil {
		s.Status = Competent
	}
}

// count looks at the window.
func (s *Standing) count(rule term.Mastery) {
	n := len(s.Opportunities)
	s.Window = min(n, rule.Of)
	faults, packs, labs := map[[2]string]bool{}, map[string]bool{}, map[[2]string]bool{}
	for i, o := range s.Opportunities {
		if o.Evidence.Met {
			s.Met++
		}
		if i < n-s.Window {
			continue
		}
		labs[[2]string{o.Record.Term, o.Record.Lab}] = true
		if o.Evidence.Met {
			s.MetInWindow++
			faults[[2]string{o.Record.Pack, o.Entry.Fault}] = true
			packs[o.Record.Pack] = true
		}
	}
	s.Faults, s.Packs, s.Labs = len(faults), len(packs), len(labs)
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
func RuleWords(m term.Mastery) string {
	text := fmt.Sprintf("at least %d of the last %d opportunities met, on at least %s of at least %s", m.Met, m.Of,
		different(m.Faults, "fault"), different(m.Packs, "pack"))
	if m.Labs > 1 {
		text += ", from at least " + different(m.Labs, "lab")
	}
	if m.Earlier {
		text += ", those of an earlier cohort too"
	}
	if m.Signed {
		text += ", and signed by the instructor"
	}
	return text
}

func different(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d different %ss", n, what)
}

// LatestMissed tells that the latest opportunity was not met; the count can be reached all the same.
func (s *Standing) LatestMissed() bool {
	n := len(s.Opportunities)
	return n > 0 && !s.Opportunities[n-1].Evidence.Met
}

// whyTooLittle says how many opportunities are missing and how many of them have to be met. Where that is not enough,
// because too many were missed before, more opportunities have to follow until the oldest leave the window, so the
// whole rule is said.
func (s *Standing) whyTooLittle(rule term.Mastery) string {
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

// Why says what is missing, "" for a competent student whose award, if there is one, is what the rule says now.
func (s *Standing) Why(rule term.Mastery) string {
	if s.Award != nil && s.Computed != Competent {
		return fmt.Sprintf("awarded on %s; computed now: %s", s.Award.Date, s.Computed)
	}
	switch s.Status {
	case Competent:
		return ""
	case ToSign:
		if s.LatestMissed() {
			return "signature of the instructor; the latest was missed"
		}
		return "signature of the instructor"
	case HandsOn:
		return "seen on paper; to be shown and signed at the vehicle"
	case TooLittle, AtRisk:
		return s.whyTooLittle(rule)
	}
	switch {
	case s.MetInWindow < rule.Met:
		return fmt.Sprintf("%d of the last %d met, %d are needed", s.MetInWindow, s.Window, rule.Met)
	case s.Faults < rule.Faults:
		return fmt.Sprintf("the met ones are on %d faults, %d are needed", s.Faults, rule.Faults)
	case s.Packs < rule.Packs:
		return fmt.Sprintf("the met ones are of %d packs, %d are needed", s.Packs, rule.Packs)
	}
	return fmt.Sprintf("the last %d come from %d labs, %d are needed", s.Window, s.Labs, rule.Labs)
}

// Since is the day of the lab with which the rule was first met, signature aside; "" when it never was. Hands-on
// competencies have no signature from paper, so none comes here.
func (s *Standing) Since(rule term.Mastery) string {
	rule.Signed = false
	for n := 1; n <= len(s.Opportunities); n++ {
		then := Standing{Opportunities: s.Opportunities[:n]}
		if then.judge(rule, false); then.Status == Competent {
			return s.Opportunities[n-1].Record.Date
		}
	}
	return ""
}
