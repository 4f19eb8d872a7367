package web

import (
	"fmt"
	"html/template"
	"strings"

	"nospark/cmd/internal/web/http"
	"nospark/grading/attempt"
	"nospark/printouts/diagram"
	"nospark/printouts/diagram/svg"
	"nospark/printouts/vector"
	"nospark/printouts/wording"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// pages renders what students see. What is the same for everybody is rendered once.
type pages struct {
	*Shell
	class   *class
	alone   bool
	choices template.HTML // the list of tests
	about   template.HTML // circuit and specifications
	booklet about
}

func newPages(c *class, of Config) (*pages, error) {
	p := &pages{Shell: of.Shell, class: c, alone: of.Alone}
	if p.Shell == nil {
		var err error
		if p.Shell, err = NewShell(); err != nil {
			return nil, err
		}
	}
	if of.Circuit == "" {
		of.Circuit = circuit(c)
	}
	p.choices = p.part("choices", c.Groups)
	p.booklet = newAbout(c, of.Circuit)
	p.about = p.part("about", p.booklet)
	return p, nil
}

func (p *pages) frame(title string, s *sheet) frame {
	f := p.Shell.frame(title, p.class.Title, p.class.Program, p.class.Lacks)
	if s != nil {
		f.Sheet, f.Person = s.Code, s.Person
	}
	if p.alone {
		f.Person = ""
	}
	return f
}

// problemPage says why something was not done.
type problemPage struct {
	frame
	Text string
}

func (p *pages) problem(status int, text string, s *sheet) Answer {
	title := "Not done"
	if status == http.StatusNotFound || status == http.StatusUnauthorized {
		title = "Not here"
	}
	return p.answer(status, "problem", problemPage{p.frame(title, s), text})
}

// about is what the booklet says.
type about struct {
	Circuit template.HTML
	Ref     handout.Reference
	Vehicle []string
	Proofs  []string // by repair
}

// Circuit draws the circuit of a lab as its pages show it. It is the same for every lab of a pack that allows the same
// tests.
func Circuit(l *lab.Lab) (string, error) {
	h, err := handout.Of(l)
	if err != nil {
		return "", err
	}
	return circuit(newClass(l, h)), nil
}

func circuit(c *class) string {
	return linked(svg.Render(diagram.Layout(c.Reference.Diagram, vector.Box(0, 0, 240, 160), svg.Width), "circuit"),
		c.Groups)
}

func newAbout(c *class, circuit string) about {
	a := about{Circuit: template.HTML(circuit), Ref: c.Reference}
	for _, f := range c.Reference.Vehicle {
		a.Vehicle = append(a.Vehicle, wording.Capital(f.Name)+": "+f.Value)
	}
	for i := range c.Reference.Repairs {
		var proof []string
		if i < len(c.Reference.Proofs) {
			proof = c.Reference.Proofs[i]
		}
		a.Proofs = append(a.Proofs, strings.Join(proof, "; "))
	}
	return a
}

// linked makes the numbers of the points in the image lead to their tests. What most lines and texts have in common is
// said once, in the style sheet: the page of a telephone is kept small.
func linked(image string, groups []group) string {
	image = strings.Replace(image, `role="img"`, `role="group"`, 1) // with links inside it is no single picture
	image = strings.ReplaceAll(image, ` stroke="currentColor" stroke-width="0.35"`, ` class="w"`)
	var b strings.Builder
	for line := range strings.Lines(image) {
		text, is := strings.CutPrefix(line, "<text ")
		if !is {
			b.WriteString(line)
			continue
		}
		text = "<text " + strings.Replace(text, ` fill="currentColor"`, "", 1)
		if g := pointOf(text, groups); g != nil {
			text = fmt.Sprintf(`<a href="#%s" aria-label="tests at point %d">%s</a>`+"\n", g.ID, g.Point,
				strings.TrimSpace(text))
		}
		b.WriteString(text)
	}
	return b.String()
}

// pointOf finds the point whose number a text is.
func pointOf(text string, groups []group) *group {
	for i := range groups {
		if groups[i].Point != 0 && strings.HasSuffix(text, fmt.Sprintf(">%d</text>\n", groups[i].Point)) {
			return &groups[i]
		}
	}
	return nil
}

// look is how an instrument shows a reading.
func look(t test, text string) string {
	switch {
	case t.Meter == "test-lamp" || t.Meter == "load-lamp":
		switch text {
		case "bright", "dim", "very dim", "dark":
			return "lamp"
		}
	case strings.HasPrefix(text, "OL") || strings.HasPrefix(text, "-") || text != "" && text[0] >= '0' &&
		text[0] <= '9':
		return "figures"
	}
	return "words"
}

// sheetPage is a student's page.
type sheetPage struct {
	frame
	Own     sheet
	State   string
	Minutes int64
	Left    string // time, "" where none is said
	Rules   []string
	Now     *nowView
	Steps   []stepView
	Choices template.HTML
	About   template.HTML
	Repairs []lab.Repair
	Key     string // of the form with the next step
	EndKey  string // of the form with the conclusion
	Ended   *endView
	Unsaid  bool // the last reading waits for its verdict
	Taken   string
	Debrief bool
	Alone   bool
	Said    template.HTML // about the last step
}

// stepView is a step as the page shows it.
type stepView struct {
	stepJSON
	Label string
	Look  string
}

// nowView is the last reading, with the form for its verdict.
type nowView struct {
	stepView
	Picture template.HTML
	Open    bool // the verdict may still be changed
}

// endView is the conclusion.
type endView struct{ Code, Label, Reason string }

// view makes the page of a sheet, whose seat is held.
func (p *pages) view(s *seat, state string, mayRead bool, version string) sheetPage {
	a := s.attempt
	v := sheetPage{frame: p.frame("Sheet "+s.sheet.Code, &s.sheet), Own: s.sheet, State: state, Minutes: s.minutes(),
		Rules: s.class.Rules, Choices: p.choices, About: p.about, Repairs: s.class.Reference.Repairs,
		Key: fmt.Sprintf("form %d", len(a.Steps)+1), EndKey: fmt.Sprintf("conclusion %d", len(a.Void)+1),
		Debrief: mayRead && s.after != nil, Alone: p.alone, Said: s.said}
	v.Version = version
	for i := range a.Steps {
		step := s.step(i + 1)
		t := s.class.tests[step.Test]
		v.Steps = append(v.Steps, stepView{step, t.Label, look(t, step.Reading)})
	}
	if n := len(v.Steps); n > 0 {
		last := v.Steps[n-1]
		v.Now = &nowView{stepView: last, Open: last.Void == "" && state == "open"}
		v.Unsaid = v.Now.Open && last.Asks && last.Good == string(attempt.Unsaid)
		if plot := s.meter(a, n).Plot; plot != nil {
			scene := diagram.Trace(*plot, vector.Box(0, 0, 90, 60), svg.Width)
			v.Now.Picture = template.HTML(svg.Render(scene, "picture"))
		}
		v.Title = fmt.Sprintf("%s, step %d, sheet %s", last.Reading, n, s.sheet.Code)
	}
	if c := a.Conclusion; c.Made() {
		v.Ended = &endView{c.Repair, s.class.repairs[c.Repair].Label, c.Reason}
		v.Title = "Concluded, sheet " + s.sheet.Code
	}
	if n := len(a.Void); n > 0 && !a.Conclusion.Made() {
		v.Taken = a.Void[n-1].Void
	}
	return v
}
