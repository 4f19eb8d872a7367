package rollup

import (
	"fmt"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/outcomes"
	"nospark/grading/statistics"
	"nospark/printouts/workbook"
)

// tasks writes the program's own list of tasks with what the records say about each: the words and numbers under which
// an accreditor knows them stay those of the program. A task that is not taught or names no competency keeps its row,
// so that the list is complete and the slip is seen.
func (s *summary) tasks() {
	if len(s.t.Term.Tasks) == 0 || len(s.t.Tasks) > 0 { // with a list they stand there
		return
	}
	sh := s.AddSheet(mapSheet)
	sh.Set(1, 1, workbook.TitleStyle, "Map to the program's own tasks: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, onPaper+" A task may need hands-on evidence beside it; that is kept elsewhere.")
	// Code, title and priority are the program's own words, never of this project.
	columns := []workbook.Column{
		{Title: "code", Width: 14, Style: workbook.TextStyle}, {Title: "task", Width: 44, Style: workbook.WrapStyle},
		{Title: "priority", Width: 10, Style: workbook.CenterStyle},
		{Title: "taught", Width: 9, Style: workbook.CenterStyle},
		{Title: "competency", Width: 28, Style: workbook.TextStyle},
		{Title: "status", Width: 34, Style: workbook.WrapStyle},
	}
	columns = append(columns, shareColumns()...)
	var rows [][]any
	for _, task := range s.t.Term.Tasks {
		c := s.competencyOf(task.Competency)
		row := []any{task.Code, workbook.OrEmpty(task.Title), workbook.OrEmpty(task.Priority),
			map[bool]string{true: "yes", false: "no"}[task.Taught]}
		switch {
		case c < 0:
			row = append(row, task.Competency, "there is no competency of this id", nil, nil, nil, nil, nil)
		case !task.Taught:
			row = append(row, s.t.Competencies[c].Title, "not taught", nil, nil, nil, nil, nil)
		default:
			row = append(append(row, s.t.Competencies[c].Title), taskCells(outcomes.GroupsOf(s.t, c)[0])...)
		}
		rows = append(rows, row)
	}
	const head = 4
	end := sh.MainTable(head, columns, rows, 2)
	sh.Bars(head+1, end-1, workbook.ColumnIndex(columns, "share"), "1", workbook.SkyBlue)
}

// rules writes what is counted and how, so that every figure can be recounted by hand. It travels with the figures:
// whoever gets the workbook in two years has no manual beside it.
func (s *summary) rules() {
	sh := s.AddSheet(rulesSheet)
	sh.OnePage = true
	for i, width := range []float64{27, 20, 44, 48, 40} {
		sh.Widths[i+1] = width
	}
	sh.Set(1, 1, workbook.TitleStyle, "Rules")
	sh.Set(2, 1, workbook.Style{Bold: true}, onPaper)
	row := 4
	name := workbook.Style{Bold: true, Top: true, Border: true, Align: "left", Fill: workbook.PaleGray}
	text := workbook.Style{Wrap: true, Top: true, Border: true, Align: "left"}
	for _, line := range s.ruleLines() {
		sh.Set(row, 1, name, line[0])
		sh.Merge(row, 2, 5, text, line[1])
		sh.FitLines(row, workbook.LineCount(line[1], sh.Span(2, 5)))
		row++
	}
	sh.Set(row+1, 1, workbook.HeadingStyle, "What counts")
	columns := []workbook.Column{
		{Title: "competency", Style: workbook.Style{Bold: true, Top: true, Border: true, Align: "left", Wrap: true}},
		{Title: "id", Style: text}, {Title: "an opportunity is", Style: text},
		{Title: "it is met when", Style: text}, {Title: "the evidence is in", Style: text},
	}
	var rows [][]any
	// Most competencies share their texts. Written out each time, the differences between the others would drown.
	first := map[string]string{} // title of the competency that a text was written out for
	once := func(text, title string) string {
		if other, known := first[text]; known && len(text) > 40 {
			return "as for " + other
		}
		first[text] = title
		return text
	}
	for _, c := range s.t.Competencies {
		title := c.Title
		if c.Own {
			title += " (of an own pack)"
		}
		rows = append(rows, []any{title, c.ID, once(c.Opportunity, title), once(c.Met, title), once(c.Source, title)})
	}
	sh.Table(row+2, 1, columns, rows)
}

// ruleLines are the rules in words: name and explanation. What depends on the term's rule of mastery is worked out for
// its numbers.
func (s *summary) ruleLines() [][2]string {
	m := s.t.Term.Mastery
	// A coordinator who sets the rule sees what it costs, from somebody who tosses a coin to somebody who seldom
	// misses.
	chance := "Whoever meets an opportunity with the chance"
	for i, rate := range []float64{.5, .6, .8, .9} {
		if i > 0 {
			chance += ";"
		}
		chance += fmt.Sprintf(" %.1f passes one window with %.3f and some window in 12 with %.2f", rate,
			statistics.RuleMet(m.Met, m.Of, rate), statistics.WindowMet(m.Met, m.Of, 12, rate))
	}
	lines := [][2]string{
		{statusText(competency.Competent), "Whoever has " + competency.RuleWords(m) +
			". The numbers stand in term.toml."},
		{statusText(competency.ToSign), "Everything but the signature; \"latest missed\" where the latest " +
			"opportunity was not met: look before you sign. nospark sign makes " + lists.SignBook +
			", in which they stand, and signs what is filled in."},
		{statusText(competency.NotYet), "Enough opportunities, but the count or the number of faults or packs is " +
			"not reached."},
		{statusText(competency.AtRisk), fmt.Sprintf("Fewer than %d opportunities, of which so many were missed "+
			"that meeting all the "+
			"next ones would not reach the count.", m.Of)},
		{statusText(competency.TooLittle), fmt.Sprintf("Fewer than %d opportunities, which is not enough evidence. "+
			"It says nothing about the student.", m.Of)},
		{statusText(competency.HandsOn), "The count is reached on paper. What is shown with the hands is never " +
			"signed from paper or " +
			"screen alone: sign it where the program keeps hands-on evidence."},
		{"★ awarded", "A decision in " + lists.AwardsFile + ", frozen with its date, rule, evidence and a " +
			"hash that chains it to " +
			"those before it. Later evidence or another rule changes nothing of it; what the rule says now stands " +
			"beside " +
			"it."},
		{underHalf, "Not yet, and fewer than half of the last opportunities were met: darker on the sheet Matrix."},
	}
	if !m.Signed { // nobody waits for a signature then
		lines = append(lines[:1], lines[2:]...)
	}
	return append(lines, [][2]string{
		{"opportunity", "It follows from the sheet alone: its complaint, its fault and best play; whoever " +
			"chooses not to make a test has had " +
			"it and not met it. A sheet gives at most one opportunity per competency. Sheets with a final mark count; " +
			"provisional, excused and missing ones do not. A step counts when its letters fit and its instrument was " +
			"allowed."},
		{"told something", "A test tells something when its reading could still rule causes in or out, so that less " +
			"testing can be expected to be left. A test of a point that is already known tells nothing. The results " +
			"workbook " +
			"says so for every step."},
		{"hidden fault", "The fault that a sheet's readings come from. Students are not told which it is; the key " +
			"names it."},
		{"best play", "The tests that somebody who always takes the most economical next test would take. The way of " +
			"least expected time from the complaint to this sheet's fault, as printed on the key and in the debrief."},
		{"own tasks", s.taskRule()},
		{"order", "By the date of the lab, then by its name. A student who changes the section keeps all evidence."},
		{"section", "Told apart by instructor, course, campus and cohort where several have one name. A lab is " +
			"known by its term and name."},
		{"repeaters", "Evidence of an earlier cohort is counted apart" +
			map[bool]string{true: ", and counts by this term's rule.",
				false: " and does not count, unless earlier = true in term.toml."}[m.Earlier]},
		{"changed ids", "Lines of " + lists.AliasesFile + ", old,id, make two ids one student."},
		{"against the class", fmt.Sprintf("The differences of a student's marks from the mean of each lab, in "+
			"their order, by the test of Mann "+
			"and Kendall. Where nobody changes, %.0f of 100 terms report a trend of anybody (Bonferroni). From %d labs "+
			"on.", 100*outcomes.FalseTrends,
			outcomes.LeastForTrend)},
		{"chance", chance + " (binomial; a rule that looks again after every lab gives more chances). A count " +
			"this short lets some pass by luck and fails some who can: read it " +
			"with the number of opportunities."},
		{"interval", "Wilson score interval, 95 %, of a share; of the students who could be judged; on sections and " +
			"the program only."},
		{"reliability, error", "From the variance components of persons and labs over the term's final marks " +
			"(Henderson's method 3). " +
			"Reliability: share of the variance of a mean mark that is between persons on the same labs. Standard " +
			"error: " +
			"root of the " +
			"residual variance over the number of labs."},
	}...)
}

// problems writes what a person should look at, if there is anything. Names can stand in it, so a workbook with codes
// does without.
func (s *summary) problems() {
	if len(s.t.Problems) == 0 || !s.names {
		return
	}
	sh := s.AddSheet(problemsSheet)
	sh.TabColor = workbook.Orange
	sh.Set(1, 1, workbook.TitleStyle, "Problems: "+s.t.Term.Program)
	sh.Set(2, 1, workbook.NoteStyle, "Found while the records were read. Files that are left out are missing from "+
		"every other sheet.")
	var rows [][]any
	for _, p := range s.t.Problems {
		rows = append(rows, []any{p.Place, p.What, p.Do})
	}
	sh.MainTable(4, []workbook.Column{{Title: "place", Width: 34, Style: workbook.WrapStyle},
		{Title: "what", Width: 70, Style: workbook.WrapStyle},
		{Title: "what to do", Width: 60, Style: workbook.WrapStyle}}, rows, 0)
}
