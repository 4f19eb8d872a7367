// Package coordinator writes the page on a screen that answers a program coordinator's questions about a term: the same
// lines as the first sheet of the workbook, for whoever wants to read them without a spreadsheet. Start at Page.
package coordinator

import (
	"bytes"
	"html/template"

	"nospark/grading/competency"
	"nospark/grading/outcomes"
	"nospark/printouts/content"
)

// shown is all that the page can know: no student, no code, no sheet.
type shown struct {
	Program, Cohort, OnPaper, Rule, Cautions string
	Answers                                  []outcomes.Answer
	Tasks                                    []shownTask // of the program's own list; nil: none
}

// shownTask is a line of the list with what the records tell of it.
type shownTask struct {
	Code, Statement, Verdict string
	Indent                   int // em
	Gap                      bool
}

// tasksOf lists the tasks of the program's own list.
func tasksOf(t *competency.Term) []shownTask {
	var list []shownTask
	for k := range t.Tasks {
		x := &t.Tasks[k]
		list = append(list, shownTask{x.Name(), x.Statement, outcomes.TaskWords(t, k), x.Depth, t.Gaps[k] != ""})
	}
	return list
}

// layout needs no script and loads nothing: the page can be mailed and printed as it is.
var layout = template.Must(template.New("coordinator").Parse(`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Coordinator: {{.Program}}</title>
<style>
body { font: 16px/1.45 Arial, sans-serif; color: #000; background: #fff; max-width: 62em; margin: 1.5em auto; padding: 0 1em; }
h1 { font-size: 1.4em; margin-bottom: 0.2em; }
p { margin: 0.3em 0; }
.wide { overflow-x: auto; margin: 1em 0; }
table { border-collapse: collapse; width: 100%; min-width: 34em; }
th, td { border: 1px solid #bfbfbf; padding: 0.35em 0.6em; text-align: left; vertical-align: top; }
thead th { background: #dcebf5; }
tbody th { background: #f0f0f0; width: 12em; }
td.n { text-align: right; }
tbody th.code { width: 6em; }
.gap td { background: #fff3d6; }
h2 { font-size: 1.15em; margin: 1.2em 0 0.2em; }
.note { color: #595959; }
.cautions { border: 2px solid #000; padding: 0.5em 0.8em; }
</style>
</head>
<body>
<h1>Coordinator: {{.Program}}{{with .Cohort}}, {{.}}{{end}}</h1>
<p><strong>{{.OnPaper}}</strong></p>
<p class="note">Competent: {{.Rule}}.</p>
<div class="wide" role="region" tabindex="0" aria-label="Questions and answers">
<table>
<thead><tr><th scope="col">question</th><th scope="col">what the records say</th><th scope="col">N</th><th scope="col">of</th></tr></thead>
<tbody>
{{range .Answers}}<tr><th scope="row">{{.Question}}</th><td>{{.Text}}</td><td class="n">{{.N}}</td><td>{{.Of}}</td></tr>
{{end}}</tbody>
</table>
</div>
{{if .Tasks}}<h2>The program's own tasks</h2>
<div class="wide" role="region" tabindex="0" aria-label="Tasks">
<table>
<thead><tr><th scope="col">code</th><th scope="col">task</th><th scope="col">what the records say</th></tr></thead>
<tbody>
{{range .Tasks}}<tr{{if .Gap}} class="gap"{{end}}><th scope="row" class="code">{{.Code}}</th><td style="padding-left: {{.Indent}}.6em">{{.Statement}}</td><td>{{.Verdict}}</td></tr>
{{end}}</tbody>
</table>
</div>
{{end}}<p class="note">Names and numbers behind each line are in competency.xlsx, how they are worked out on its sheet Rules.</p>
<p class="cautions">{{.Cautions}}</p>
</body>
</html>
`))

// Page makes the page of a term.
func Page(t *competency.Term) ([]byte, error) {
	var out bytes.Buffer
	err := layout.Execute(&out, shown{
		Program: t.Term.Program, Cohort: t.Cohort, OnPaper: competency.OnPaper,
		Rule:     competency.RuleWords(t.Term.Mastery),
		Cautions: content.Plain(content.CautionsShort), Answers: outcomes.AnswersOf(t, outcomes.LabsOf(t),
			outcomes.MarksOf(t)),
		Tasks: tasksOf(t),
	})
	return out.Bytes(), err
}
