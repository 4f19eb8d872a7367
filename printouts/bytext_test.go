package printouts

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// TestLabByTextAlone plays a whole lab from the plain texts alone, as somebody does who reads with ears or fingers:
// which lines to ask for from the worksheet, what each reading should be and the codes of the repairs from the booklet,
// letters and readings from the partner's text. The grading finds nearly all judged rightly, and the text of the
// debrief gives the mark and the repair back.
func TestLabByTextAlone(t *testing.T) {
	lab := classLab(t, "single-coil", 8, "complaint = \"no-start\"\n")
	files := filesOf(t, first(AtBuild(lab)))
	booklet := readBooklet(t, files["handouts/text/booklet.txt"])
	var rows []submission.Row
	for _, s := range lab.Sheets {
		// all that is taken from the lab are the names of the files
		sheet := readWorksheet(t, files["handouts/text/"+s.Code+"-worksheet.txt"])
		partner := readPartner(files["partners/text/"+s.Code+"-readings.txt"])
		rows = append(rows, play(t, booklet, sheet, partner))
	}
	result := graded(t, lab, rows, adjust.Decisions{})
	right, agreed, asked := 0, 0, 0
	debriefs := filesOf(t, first(AtGrading(lab, result)))
	for _, s := range result.Students {
		if s.Status != grading.Graded {
			t.Errorf("sheet %s is %v: %s", s.Sheet, s.Status, s.Why)
		}
		if s.Right {
			right++
		}
		for _, step := range s.Steps {
			if step.State != grading.Counted {
				t.Errorf("sheet %s, step %q: state %v", s.Sheet, step.Text, step.State)
			}
			if !step.Silent {
				asked++
				if step.Agrees {
					agreed++
				}
			}
		}
		checkDebriefText(t, lab, s, debriefs["graded/text/"+s.Sheet+"-debrief.txt"])
	}
	t.Logf("%d of %d sheets right, %d of %d readings judged rightly", right, len(result.Students), agreed, asked)
	if asked < 100 || agreed*100 < asked*98 {
		t.Errorf("%d of %d readings were judged rightly by the booklet's text", agreed, asked)
	}
	if 4*right < 3*len(result.Students) {
		t.Errorf("%d of %d repairs are right", right, len(result.Students))
	}
}

func first(jobs []Job, _ []string) []Job { return jobs }

// filesOf makes the plain texts among some jobs.
func filesOf(t *testing.T, jobs []Job) map[string]string {
	t.Helper()
	texts := map[string]string{}
	for _, j := range jobs {
		if !strings.HasSuffix(j.Name, ".txt") {
			continue
		}
		files, err := j.Make()
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			texts[f.Path] = strings.ReplaceAll(string(f.Data), "\u00a0", " ")
		}
	}
	return texts
}

// textRepair is a repair as the booklet tells it.
type textRepair struct {
	code         string
	needs, shows []int   // points that must be good, and those that must not be
	ends         [][]int // of each wire
	common       bool
}

type textBooklet struct {
	roles   map[int]string
	specs   []textSpec
	repairs []textRepair
}

type textSpec struct{ where, meter, when, good string }

var (
	pointLine  = regexp.MustCompile(`(?m)^no\.: (\d+); point: (.*?)(?:; role: (.*?))?; access: `)
	specLine   = regexp.MustCompile(`(?m)^where: (.*); meter, leads: (.*); when: (.*); a good reading: (.*)$`)
	repairLine = regexp.MustCompile(`(?m)^code: (\w+); repair: (.*?); how often: (\w+); takes: .*?(?:; its own checks: (.*))?$`)
	checkWords = regexp.MustCompile(`(feed|ground|input|output|end) ([\d]+(?: and \d+)*)`)
	number     = regexp.MustCompile(`\d+`)
)

func readBooklet(t *testing.T, text string) textBooklet {
	t.Helper()
	b := textBooklet{roles: map[int]string{}}
	for _, m := range pointLine.FindAllStringSubmatch(text, -1) {
		b.roles[atoi(m[1])] = m[3]
	}
	for _, m := range specLine.FindAllStringSubmatch(text, -1) {
		b.specs = append(b.specs, textSpec{m[1], m[2], m[3], m[4]})
	}
	for _, m := range repairLine.FindAllStringSubmatch(text, -1) {
		r := textRepair{code: m[1], common: m[3] == "common"}
		for _, part := range strings.Split(m[4], "; ") {
			for _, c := range checkWords.FindAllStringSubmatch(part, -1) {
				var points []int
				for _, n := range number.FindAllString(c[2], -1) {
					points = append(points, atoi(n))
				}
				switch c[1] {
				case "output":
					r.shows = append(r.shows, points...)
				case "end":
					r.ends = append(r.ends, points)
				default:
					r.needs = append(r.needs, points...)
				}
			}
		}
		b.repairs = append(b.repairs, r)
	}
	if len(b.roles) < 20 || len(b.specs) < 40 || len(b.repairs) < 20 {
		t.Fatalf("the booklet's text gives %d points, %d specifications and %d repairs", len(b.roles), len(b.specs),
			len(b.repairs))
	}
	return b
}

// good is what a reading at a point should be.
func (b textBooklet) good(point int, meter, when string) string {
	for _, s := range b.specs {
		where, at, limited := strings.Cut(s.where, " at ")
		if where == b.roles[point] && s.meter == meter && slices.Contains(strings.Split(s.when, "; "), when) &&
			(!limited || slices.Contains(number.FindAllString(at, -1), strconv.Itoa(point))) {
			return s.good
		}
	}
	return ""
}

// textCell is a cell of the grid.
type textCell struct {
	point       int
	meter, when string
	line        int
}

type textSheet struct {
	student, code string
	cells         []textCell
}

var (
	headOfSheet = regexp.MustCompile(`(?m)^Name: .*?, (\w+), \w+$`)
	codeOfSheet = regexp.MustCompile(`(?m)^Sheet (\S+)$`)
	rowOfGrid   = regexp.MustCompile(`^(\d+) .*, [\d.]+$`)
	cellOfGrid  = regexp.MustCompile(`^  (.*), [\d.]+ min: (\d{3})$`)
)

func readWorksheet(t *testing.T, text string) textSheet {
	t.Helper()
	s := textSheet{student: headOfSheet.FindStringSubmatch(text)[1], code: codeOfSheet.FindStringSubmatch(text)[1]}
	_, grid, _ := strings.Cut(text, "Tests at the numbered points")
	grid, _, _ = strings.Cut(grid, "\nOther tests\n")
	meter, point := "", 0
	for _, line := range strings.Split(grid, "\n") {
		if m := cellOfGrid.FindStringSubmatch(line); m != nil {
			s.cells = append(s.cells, textCell{point, meter, m[1], atoi(m[2])})
		} else if m := rowOfGrid.FindStringSubmatch(line); m != nil {
			point = atoi(m[1])
		} else if line != "" {
			meter = line
		}
	}
	if len(s.cells) < 50 {
		t.Fatalf("the worksheet's text gives %d cells", len(s.cells))
	}
	return s
}

type textAnswer struct{ letters, reading, battery string }

var lineOfPartner = regexp.MustCompile(`(?m)^(\d{3}) ([A-Z]{2}) (.*?)(?:, battery (.*))?$`)

func readPartner(text string) map[int]textAnswer {
	answers := map[int]textAnswer{}
	for _, m := range lineOfPartner.FindAllStringSubmatch(text, -1) {
		answers[atoi(m[1])] = textAnswer{m[2], m[3], m[4]}
	}
	return answers
}

// play tests every point while cranking, judges each reading by the booklet, and concludes the repair whose own
// checks show it best.
func play(t *testing.T, b textBooklet, s textSheet, partner map[int]textAnswer) submission.Row {
	t.Helper()
	row := submission.Row{Place: "by text", Student: s.student, Sheet: s.code, Reasoning: -1, Safe: -1}
	fine := map[int]bool{}
	for _, c := range s.cells {
		good := b.good(c.point, c.meter, c.when)
		if c.when != "cranking" || good == "" {
			continue
		}
		answer := partner[c.line]
		ok, silent := judge(t, good, answer)
		if before, seen := fine[c.point]; !silent {
			fine[c.point] = ok && (before || !seen)
		}
		verdict := map[bool]string{true: "+", false: "-"}[ok]
		if silent {
			verdict = ""
		}
		row.Steps = append(row.Steps, submission.Step{Text: fmt.Sprintf("%03d%s%s", c.line, answer.letters, verdict),
			Line: c.line, Letters: answer.letters, Judged: verdict})
	}
	best := -1
	for _, r := range b.repairs {
		if score := r.score(fine); score > best {
			best, row.Repair = score, r.code
		}
	}
	return row
}

// score tells how well what was read shows a repair: a part whose needs are met and whose output is not, a wire with
// one good end.
func (r textRepair) score(fine map[int]bool) int {
	met := func(points []int) (good, bad int) {
		for _, p := range points {
			if ok, seen := fine[p]; seen && ok {
				good++
			} else if seen {
				bad++
			}
		}
		return good, bad
	}
	score := 0
	if r.common {
		score = 1
	}
	for _, wire := range r.ends {
		if near, far := met(wire); near > 0 && far > 0 {
			return score + 20
		}
	}
	good, bad := met(r.needs)
	if _, wrong := met(r.shows); bad == 0 && good > 0 && wrong > 0 {
		return score + 10 + good
	}
	return score
}

var (
	within   = regexp.MustCompile(`^at least ([\d.]+) and below ([\d.]+) `)
	atLeast  = regexp.MustCompile(`^at least ([\d.]+) `)
	under    = regexp.MustCompile(`^(?:below|less than) ([\d.]+) `)
	quantity = regexp.MustCompile(`^(-?[\d.]+)`)
)

// judge compares a reading with what it should be.
func judge(t *testing.T, good string, a textAnswer) (ok, silent bool) {
	t.Helper()
	if strings.Contains(a.reading, "does not run") {
		return false, true
	}
	q := quantity.FindString(a.reading)
	if q == "" {
		return a.reading == good, false
	}
	v := value(q)
	switch {
	case strings.HasSuffix(good, "below the battery reading"):
		return value(quantity.FindString(a.battery))-v < value(under.FindStringSubmatch(good)[1]), false
	case within.MatchString(good):
		m := within.FindStringSubmatch(good)
		return v >= value(m[1]) && v < value(m[2]), false
	case atLeast.MatchString(good):
		return v >= value(atLeast.FindStringSubmatch(good)[1]), false
	case under.MatchString(good):
		return v < value(under.FindStringSubmatch(good)[1]), false
	}
	t.Fatalf("no way to judge %q by %q", a.reading, good)
	return false, false
}

// checkDebriefText finds the mark and the repair that the grading gave in the words of the debrief.
func checkDebriefText(t *testing.T, l *lab.Lab, s grading.StudentResult, text string) {
	t.Helper()
	m := regexp.MustCompile(`Mark ([\d.]+)\D`).FindStringSubmatch(text)
	if m == nil || m[1] != strconv.FormatFloat(s.Mark, 'f', 1, 64) {
		t.Errorf("sheet %s: the mark %.1f reads %q", s.Sheet, s.Mark, m)
	}
	truth := l.Repairs[l.Faults[l.Hypotheses[l.Sheets[s.Index].Truth].Fault].Repair]
	for _, want := range []string{"(" + truth.Code + truth.Letters + ")", "What was wrong", "Your steps"} {
		if !strings.Contains(text, want) {
			t.Errorf("sheet %s: no %q in its debrief", s.Sheet, want)
		}
	}
}

func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

func value(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}
