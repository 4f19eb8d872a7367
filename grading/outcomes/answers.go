package outcomes

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"time"

	"nospark/grading/competency"
	"nospark/grading/evidence"
	"nospark/grading/statistics"
)

// Answer is a line of the coordinator's page: what one asks, what the records say, and on how much.
type Answer struct {
	Question string // "" where the line goes on answering the question before
	Text     string
	N        int
	Of       string // what N counts
}

// The questions of a program coordinator at the end of a term.
const (
	whoQuestion     = "Who is not competent in what, and on how much evidence?"
	sectionQuestion = "Which section is behind?"
	labQuestion     = "Which labs are harder?"
	yearQuestion    = "Better than the cohort before?"
	faultQuestion   = "Which faults does nobody find?"
	teachQuestion   = "What to teach next week?"
	taskQuestion    = "Which tasks of the program's list have no evidence?"
)

// Bounds of the page.
const (
	mostLines  = 3  // of labs and faults
	recentDays = 28 // of which next week's lesson is made
)

// AnswersOf works the page out. labs and marks are those of the term, which others need too.
func AnswersOf(t *competency.Term, labs []Lab, marks Marks) []Answer {
	var list []Answer
	add := func(question string, answers ...Answer) {
		if len(answers) > 0 {
			answers[0].Question = question
		}
		list = append(list, answers...)
	}
	add(whoQuestion, whoIsNot(t)...)
	add(sectionQuestion, whoIsBehind(t))
	add(labQuestion, hardLabs(labs, marks)...)
	add(yearQuestion, betterThan(t))
	add(faultQuestion, unfound(t)...)
	add(teachQuestion, teachNext(t))
	if len(t.Tasks) > 0 {
		add(taskQuestion, gaps(t))
	}
	return list
}

// whoIsNot has a line per competency, those with the most students who could be judged and are not competent first.
func whoIsNot(t *competency.Term) []Answer {
	type line struct {
		Answer
		share float64
	}
	var lines []line
	for c := range t.Competencies {
		var n [competency.Statuses]int
		opportunities := 0
		for i := range t.Students {
			x := &t.Students[i].Standings[c]
			n[x.Status]++
			opportunities += len(x.Opportunities)
		}
		size := len(t.Students)
		text := fmt.Sprintf("%s: %d competent, %d to be signed, %d not yet, %d at risk, %d with too few opportunities",
			t.Competencies[c].Title, n[competency.Competent], n[competency.ToSign], n[competency.NotYet],
			n[competency.AtRisk], n[competency.TooLittle])
		if n[competency.HandsOn] > 0 {
			text = fmt.Sprintf("%s: %d seen on paper, to be signed at the vehicle; %d not yet, %d at risk, %d "+
				"with too few opportunities",
				t.Competencies[c].Title, n[competency.HandsOn], n[competency.NotYet], n[competency.AtRisk],
				n[competency.TooLittle])
		}
		switch {
		case opportunities == 0:
			text = t.Competencies[c].Title + ": no sheet gave an opportunity"
		case size > 0:
			text += fmt.Sprintf("; %.1f opportunities a student", float64(opportunities)/float64(size))
		}
		lines = append(lines, line{Answer{Text: text, N: size, Of: "students"},
			float64(n[competency.NotYet]+n[competency.AtRisk]) / float64(max(1, size))})
	}
	slices.SortStableFunc(lines, func(a, b line) int { return cmp.Compare(b.share, a.share) })
	list := make([]Answer, len(lines))
	for i, l := range lines {
		list[i] = l.Answer
	}
	return list
}

// whoIsBehind compares the sections.
func whoIsBehind(t *competency.Term) Answer {
	all := SectionMarksOf(t)
	var behind, told []string
	compared := 0
	for _, s := range all {
		if math.IsNaN(s.Others.Mean) {
			continue
		}
		compared++
		if s.Behind() {
			behind = append(behind, fmt.Sprintf("section %s, %.0f points below the others on the same labs (95 "+
				"%% %.0f to %.0f)",
				cmp.Or(s.Section, "without a name"), -s.Others.Mean, -s.Others.High, -s.Others.Low))
		}
	}
	a := Answer{N: len(all), Of: "sections"}
	switch {
	case len(all) < 2:
		a.Text = "Cannot be said: the records are not of several sections."
	case compared == 0:
		a.Text = fmt.Sprintf("Not compared: a section is held against at least %d others of at least %d students, and "+
			"there are %d in all. Their figures are in competency.xlsx, on the sheet Sections.", LeastSections, LeastGroup,
			len(all))
	case len(behind) == 0:
		low := slices.MinFunc(all, func(a, b SectionMark) int {
			return cmp.Or(rank(math.IsNaN(a.Others.Mean), math.IsNaN(b.Others.Mean)),
				cmp.Compare(a.Others.Mean, b.Others.Mean))
		})
		a.Text = fmt.Sprintf("None more than sections differ anyway; the lowest is %s, %+.0f points against the "+
			"others (95 %% %.0f to %.0f).",
			cmp.Or(low.Section, "the one without a name"), low.Others.Mean, low.Others.Low, low.Others.High)
	default:
		told = append(told, behind...)
		a.Text = strings.ToUpper(told[0][:1]) + strings.Join(told, "; ")[1:] + ". Students, instructor and hour " +
			"cannot be told apart."
	}
	return a
}

// rank puts false before true.
func rank(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// hardLabs lists the labs with the lowest mean marks, and says what a single lab is worth.
func hardLabs(labs []Lab, marks Marks) []Answer {
	const noticed = 1 // points
	known := slices.DeleteFunc(slices.Clone(labs), func(l Lab) bool { return math.IsNaN(l.Mean) })
	slices.SortStableFunc(known, func(a, b Lab) int { return cmp.Compare(a.Mean, b.Mean) })
	if len(known) < 2 {
		return []Answer{{Text: fmt.Sprintf("Cannot be said: it takes two labs of at least %d sheets.", LeastN),
			N: len(labs), Of: "labs"}}
	}
	mean := 0.0
	for _, l := range known {
		mean += l.Mean / float64(len(known))
	}
	var list []Answer
	for _, l := range known[:min(mostLines, len(known))] {
		if mean-l.Mean < noticed {
			break
		}
		points := fmt.Sprintf("%.0f points", mean-l.Mean)
		if points == "1 points" {
			points = "1 point"
		}
		list = append(list, Answer{Text: fmt.Sprintf("%s, %s: mean mark %.0f, %s below the mean of all labs", l.Name, l.Title,
			l.Mean, points), N: l.N, Of: "sheets"})
	}
	if len(list) == 0 {
		list = append(list, Answer{Text: "All are alike, within a point.", N: len(known), Of: "labs"})
	}
	if text := marks.OneLab(); text != "" {
		list = append(list, Answer{Text: text, N: marks.Cells, Of: "sheets"})
	}
	return list
}

// OneLab says in a sentence how little a single lab tells; "" where there are too few data.
func (m Marks) OneLab() string {
	if !m.OK || m.DF < LeastDF {
		return ""
	}
	return fmt.Sprintf("One lab: reliability %.2f, standard error %.0f points; the mean of 12: %.2f, %.0f points",
		m.Reliability(1),
		m.Error(1), m.Reliability(12), m.Error(12))
}

// betterThan compares with the cohort before.
func betterThan(t *competency.Term) Answer {
	g, ok := GrowthOf(t)
	switch {
	case !ok:
		return Answer{Text: "Cannot be said: the records are of one cohort.", N: 0, Of: "labs given to both cohorts"}
	case g.Labs == 0:
		return Answer{Text: fmt.Sprintf("Cannot be said: no lab of %s was given again in %s.", g.Earlier, g.Later), N: 0,
			Of: "labs given to both cohorts"}
	case math.IsNaN(g.Points.Mean):
		return Answer{Text: fmt.Sprintf("Cannot be said: %d sections against %d, and it takes %d a side.",
			g.SectionsLater,
			g.SectionsEarlier, LeastSections),
			N: g.Labs, Of: "labs given to both cohorts"}
	}
	words := "No difference that goes beyond chance"
	switch {
	case g.Points.Low > 0:
		words = "Better"
	case g.Points.High < 0:
		words = "Worse"
	}
	return Answer{Text: fmt.Sprintf("%s: %s against %s %+.0f points on the same labs (95 %% %.0f to %.0f), %d "+
		"sections against %d", words, g.Later,
		g.Earlier, g.Points.Mean, g.Points.Low, g.Points.High, g.SectionsLater, g.SectionsEarlier), N: g.Labs,
		Of: "labs given to both cohorts"}
}

// unfound lists the faults that were found on less than half of their sheets, those found least often first.
func unfound(t *competency.Term) []Answer {
	var list []Answer
	enough := 0
	for _, f := range FaultsOf(t) { // those found least often first
		if math.IsNaN(f.Found.Share) {
			break
		}
		enough++
		if len(list) == mostLines || 2*f.Met >= f.N {
			continue
		}
		text := fmt.Sprintf("%s (%s): found on %d of %d sheets (95 %% %.0f to %.0f %%)", f.Fault, f.Pack, f.Met, f.N,
			100*f.Found.Low, 100*f.Found.High)
		if f.Met == 0 {
			text = fmt.Sprintf("%s (%s): nobody found it (95 %% up to %.0f %%)", f.Fault, f.Pack, 100*f.Found.High)
		}
		list = append(list, Answer{Text: text, N: f.N, Of: "sheets"})
	}
	switch {
	case len(list) > 0:
	case enough > 0:
		list = append(list, Answer{Text: fmt.Sprintf("None: every fault on %d sheets or more was found on at least "+
			"half "+
			"of them.", LeastN), N: enough, Of: "faults"})
	default:
		list = append(list, Answer{Text: fmt.Sprintf("Cannot be said: no fault was on %d sheets.", LeastN), N: 0,
			Of: "faults"})
	}
	return list
}

// teachNext finds the competency that was met least often in the last weeks, and what was missing most often.
func teachNext(t *competency.Term) Answer {
	none := Answer{Text: fmt.Sprintf("Cannot be said: no competency had %d opportunities in the last %d days.", LeastN,
		recentDays), N: 0,
		Of: "opportunities"}
	if len(t.Records) == 0 {
		return none
	}
	last := t.Records[len(t.Records)-1].Date
	from := daysBefore(last, recentDays)
	met, had := make([]int, len(t.Competencies)), make([]int, len(t.Competencies))
	why := make([]map[string]int, len(t.Competencies))
	for i := range t.Students {
		for c := range t.Students[i].Standings {
			for _, o := range t.Students[i].Standings[c].Opportunities {
				switch {
				case o.Record.Date < from:
					continue
				case o.Evidence.Met:
					met[c]++
				// the instructor gave no reason
				case t.Competencies[c].ID == evidence.Reasoning, t.Competencies[c].HandsOn:
				case why[c] == nil:
					why[c] = map[string]int{kind(o.Evidence.Why): 1}
				default:
					why[c][kind(o.Evidence.Why)]++
				}
				had[c]++
			}
		}
	}
	worst := -1
	for c := range had {
		if had[c] >= LeastN && (worst < 0 || met[c]*had[worst] < met[worst]*had[c]) {
			worst = c
		}
	}
	if worst < 0 {
		return none
	}
	share := statistics.Wilson(met[worst], had[worst])
	text := fmt.Sprintf("%s: met in %.0f %% since %s (95 %% %.0f to %.0f %%)", t.Competencies[worst].Title,
		100*share.Share, from,
		100*share.Low, 100*share.High)
	if reasons := slices.Sorted(maps.Keys(why[worst])); len(reasons) > 0 {
		most := slices.MaxFunc(reasons, func(a, b string) int {
			return cmp.Or(cmp.Compare(why[worst][a], why[worst][b]),
				cmp.Compare(b, a))
		})
		text += fmt.Sprintf("; most often: %s (%d times)", cmp.Or(kindWords[most], most), why[worst][most])
	}
	return Answer{Text: text, N: had[worst], Of: "opportunities"}
}

// kindWords are the reasons of evidence that have numbers, as they read without them.
var kindWords = map[string]string{
	"… of … verdicts right":                     "a verdict on a reading was wrong",
	"lost … minutes, reference …":               "too many minutes lost against best play",
	"right, but … minutes of testing were left": "right, but before the testing was finished",
}

// kind is a reason without its numbers, so that equal ones can be counted.
func kind(why string) string {
	var text strings.Builder
	number := false
	for _, r := range why {
		digit := r >= '0' && r <= '9' || number && r == '.'
		switch {
		case !digit:
			text.WriteRune(r)
		case !number:
			text.WriteRune('…')
		}
		number = digit
	}
	return text.String()
}

// daysBefore gives the day so many days before a date; dates of records are sound.
func daysBefore(date string, days int) string {
	day, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return day.AddDate(0, 0, -days).Format(time.DateOnly)
}
