package practice

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"nospark/scenarios/term"
)

// Level is how much somebody is told, and when.
type Level string

// The levels.
const (
	Guided Level = "guided" // in words after every step
	Open   Level = "open"   // at the end
	Exam   Level = "exam"   // as in class: at the end, and a vehicle that is left counts as one that was not proven
)

func (l Level) known() bool { return l == Guided || l == Open || l == Exam }

// levels are all of them with what they mean.
func levels() []struct {
	Level       Level
	Name, Means string
} {
	return []struct {
		Level       Level
		Name, Means string
	}{
		{Guided, "Guided", "after every step you read what it ruled out, why, and what would have told more"},
		{Open, "Open", "you read all that at the end"},
		{Exam, "Exam", "as in class; only this counts toward mastering, and a vehicle that you leave counts as not " +
			"proven"},
	}
}

// Entry is one vehicle that was finished, or left in an exam.
type Entry struct {
	Day, Pack, Stage string
	Level            Level
	Fault            string // id
	Mark             float64
	Proven           bool
}

// line is the entry in the log.
func (e Entry) line() string {
	how := "not-proven"
	if e.Proven {
		how = "proven"
	}
	return fmt.Sprintf("%s %s %s %s %s %.1f %s", e.Day, e.Pack, e.Stage, e.Level, e.Fault, e.Mark, how)
}

// Notice stands over every log.
const Notice = "Practice at home. Nobody watched it, so it is no evidence of competence and counts for no mark."

// Log is what somebody has practiced, oldest first.
type Log []Entry

// mostEntries bounds a log: of older vehicles nothing follows any more.
const mostEntries = 2000

// Text writes a log, to keep and to hand in.
func (l Log) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n# day, pack, complaint, level, fault, mark, whether the repair was proven\n", Notice)
	for _, e := range l {
		b.WriteString(e.line() + "\n")
	}
	return b.String()
}

// words are what a name in a log is made of.
var words = regexp.MustCompile(`^[a-z0-9][a-z0-9._-]*$`)

// ParseLog reads a log. Lines that are none are left out and counted.
func ParseLog(text string) (l Log, strange int) {
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		e, ok := parseEntry(line)
		if !ok {
			strange++
			continue
		}
		l = append(l, e)
	}
	return l.recent(), strange
}

func parseEntry(line string) (Entry, bool) {
	f := strings.Fields(line)
	if len(f) != 7 {
		return Entry{}, false
	}
	e := Entry{Day: f[0], Pack: f[1], Stage: f[2], Level: Level(f[3]), Fault: f[4], Proven: f[6] == "proven"}
	mark, err := strconv.ParseFloat(f[5], 64)
	e.Mark = mark
	_, dayErr := time.Parse(time.DateOnly, e.Day)
	named := words.MatchString(e.Pack) && words.MatchString(e.Stage) && words.MatchString(e.Fault)
	return e, err == nil && mark >= 0 && mark <= 100 && dayErr == nil && e.Level.known() && named &&
		(e.Proven || f[6] == "not-proven")
}

// recent are the last entries of a log.
func (l Log) recent() Log { return l[max(0, len(l)-mostEntries):] }

// Rule is when a stage is mastered: as a term has it that says nothing else.
func Rule() term.Mastery { return term.DefaultMastery() }

// ruleWords say the rule as far as it has a place here.
func ruleWords() string {
	r := Rule()
	return fmt.Sprintf("at least %d of the last %d vehicles proven, on at least %d different faults, or on all where "+
		"it has fewer", r.Met, r.Of, r.Faults)
}

// Standing is how far somebody is with a stage.
type Standing struct {
	Exams    int    // vehicles
	Last     []bool // of the last ones that count, whether the repair was proven
	Met      int    // of those
	Faults   int    // different ones among the met
	Needed   int    // different faults that are needed
	Mastered bool
}

// standing judges a stage by the rule of a term: so many of the last vehicles proven, on so many different faults, or
// on all that the stage has. Packs and signatures of the rule have no place where nobody watches.
func (l Log) standing(pack string, stage Stage) Standing {
	rule := Rule()
	s := Standing{Needed: min(rule.Faults, stage.Faults)}
	var of []Entry
	for _, e := range l {
		if e.Level == Exam && e.Pack == pack && e.Stage == stage.ID() {
			of = append(of, e)
		}
	}
	s.Exams = len(of)
	var faults []string
	for _, e := range of[max(0, len(of)-rule.Of):] {
		s.Last = append(s.Last, e.Proven)
		if !e.Proven {
			continue
		}
		s.Met++
		if !slices.Contains(faults, e.Fault) {
			faults = append(faults, e.Fault)
		}
	}
	s.Faults = len(faults)
	s.Mastered = s.Met >= rule.Met && s.Faults >= s.Needed
	return s
}

// Words say where somebody stands.
func (s Standing) Words() string {
	switch {
	case s.Mastered:
		return "mastered"
	case s.Exams == 0:
		return "not begun"
	}
	text := fmt.Sprintf("%d of the last %d proven", s.Met, len(s.Last))
	if s.Met >= Rule().Met {
		text += fmt.Sprintf(", on %d different of %d faults", s.Faults, s.Needed)
	}
	return text
}

// day is the day of a time in seconds since 1970.
func day(at int64) string { return time.Unix(at, 0).UTC().Format(time.DateOnly) }
