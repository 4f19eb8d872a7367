package practice

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"nospark/cmd/internal/web"
	"nospark/scenarios/build"
	"nospark/scenarios/lab"
	"nospark/scenarios/pack"
	"nospark/scenarios/term"
	"nospark/scenarios/vehicle"
)

// Offer says what is on a shelf.
type Offer struct {
	Pack   string  `json:"pack"` // name
	Title  string  `json:"title"`
	Tests  int     `json:"tests"`
	Stages []Stage `json:"stages"` // small ones first
}

// Stage is a complaint of a pack: what is practiced until it is mastered.
type Stage struct {
	Complaint string `json:"complaint"` // id
	Label     string `json:"label"`
	Kind      Kind   `json:"kind,omitempty"`
	Faults    int    `json:"faults"`
	Repairs   int    `json:"repairs"`
	Suspects  int    `json:"suspects"`
}

// Kind is what is to be learned at a stage beside the system. Each comes after the one before.
type Kind int

// The kinds.
const (
	Steady Kind = iota // the fault is there all the time
	Comes              // it comes and goes
	Scope              // the oscilloscope is among the instruments
	kinds
)

// ID names a stage of a pack, in logs too.
func (s Stage) ID() string {
	if s.Kind == Scope {
		return s.Complaint + ".scope" // no complaint has a dot
	}
	return s.Complaint
}

// Shelf holds the stocks of one pack. What they share is kept once.
type Shelf struct {
	Offer  Offer             `json:"offer"`
	Frames [2]*Frame         `json:"frames"` // without the oscilloscope and with it; nil for none
	Parts  []json.RawMessage `json:"parts"`  // a Part of each stage, read when somebody wants it
	Source string            `json:"source"` // text of the pack
}

// Frame is what stages with the same tests have in common.
type Frame struct {
	Lab     *lab.Lab `json:"lab"`     // without what is a stage's own and without the text of the pack
	Circuit string   `json:"circuit"` // as the pages show it
}

// frame of a kind of stage.
func (k Kind) frame() int {
	if k == Scope {
		return 1
	}
	return 0
}

// Part is what a stage has for itself.
type Part struct {
	Repairs    []lab.Repair     `json:"repairs"`
	Hypotheses []lab.Hypothesis `json:"hypotheses"`
	Checks     []lab.Check      `json:"checks"`
	Cases      []lab.Case       `json:"cases"`
	Rows       []build.Origin   `json:"rows"`
}

// program is who gives the lab, at the foot of every page.
const program = "Practice at home"

// key draws the codes of repairs. It protects nothing.
func key() term.Key {
	var k term.Key
	copy(k[:], "the key of practice is no secret")
	return k
}

// leastRepairs is how many different repairs a complaint must have to be worth practicing, and leastForScope how many
// suspects to be worth practicing once more with the oscilloscope.
const leastRepairs, leastForScope = 2, 10

// NewShelf works out all complaints of a pack that are worth practicing. Progress is told after each.
func NewShelf(ctx context.Context, file string, text []byte, progress func(done, total int)) (*Shelf, error) {
	p, matrix, err := vehicle.ReadMatrix(file, text)
	if err != nil {
		return nil, err
	}
	s := &Shelf{Offer: Offer{Pack: p.Name, Title: p.Title, Tests: len(p.Tests)}, Source: string(text)}
	scope := slices.ContainsFunc(p.Tests, func(t pack.Test) bool { return t.Instrument.Scope() })
	var failed []error
	for i, c := range p.Complaints {
		progress(i, len(p.Complaints))
		if !slices.ContainsFunc(matrix.Rows, func(r vehicle.Row) bool { return r.Complaint == i }) {
			continue
		}
		err := s.add(ctx, p, Stage{Complaint: c.ID, Label: c.Label}, file, matrix)
		if err == nil && scope && s.last().Complaint == c.ID && s.last().Suspects >= leastForScope {
			err = s.add(ctx, p, Stage{Complaint: c.ID, Label: c.Label, Kind: Scope}, file, matrix)
		}
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil { // a complaint that needs no testing is nothing to practice; only where all fail it is told
			failed = append(failed, err)
		}
	}
	progress(len(p.Complaints), len(p.Complaints))
	if len(s.Parts) == 0 {
		return nil, errors.Join(append(failed, fmt.Errorf("%s: no complaint of the pack is worth practicing", file))...)
	}
	s.sort()
	return s, nil
}

// last is the stage that was added last.
func (s *Shelf) last() Stage {
	if len(s.Offer.Stages) == 0 {
		return Stage{}
	}
	return s.Offer.Stages[len(s.Offer.Stages)-1]
}

func stockOf(ctx context.Context, p *pack.Pack, stage Stage, file string, text string,
	matrix *vehicle.Matrix) (*build.Stock, error) {
	plan, err := term.ParsePlan("practice.toml", fmt.Sprintf("title = \"Practice\"\ndate = 2000-01-01\npack = "+
		"%q\ncomplaint = %q\nscope = %v\n", p.Name, stage.Complaint, stage.Kind == Scope))
	if err != nil {
		return nil, err
	}
	t := term.Term{ID: "practice", Program: program, Paper: "letter", Rubric: term.DefaultRubric(), Mastery: Rule()}
	return build.NewStock(ctx, build.Input{Term: t, Plan: plan, Key: key(), PackFile: file, Pack: text, Matrix: matrix})
}

// add works a stage out and puts it on the shelf unless it is too small.
func (s *Shelf) add(ctx context.Context, p *pack.Pack, stage Stage, file string, matrix *vehicle.Matrix) error {
	stock, err := stockOf(ctx, p, stage, file, s.Source, matrix)
	if err != nil {
		return err
	}
	l := stock.Lab
	faults, repairs := map[int]bool{}, map[int]bool{}
	for _, h := range l.Hypotheses {
		faults[h.Fault] = true
		repairs[l.Faults[h.Fault].Repair] = true
	}
	if len(repairs) < leastRepairs {
		return nil
	}
	stage.Faults, stage.Repairs, stage.Suspects = len(faults), len(repairs), len(l.Hypotheses)
	if stage.Kind == Steady && !slices.ContainsFunc(stock.Rows, func(r build.Origin) bool {
		return r.Fault < 0 || !slices.ContainsFunc(p.Faults[r.Fault].Set, func(c pack.Setting) bool { return c.Only != "" })
	}) {
		stage.Kind = Comes
	}
	part, err := json.Marshal(Part{l.Repairs, l.Hypotheses, l.Checks, l.Cases, stock.Rows})
	if err != nil {
		return err
	}
	if at := stage.Kind.frame(); s.Frames[at] == nil {
		circuit, err := web.Circuit(l)
		if err != nil {
			return err
		}
		frame := *l
		frame.Repairs, frame.Hypotheses, frame.Checks, frame.Cases, frame.Pack.Source = nil, nil, nil, nil, ""
		s.Frames[at] = &Frame{&frame, circuit}
	}
	s.Offer.Stages, s.Parts = append(s.Offer.Stages, stage), append(s.Parts, part)
	return nil
}

// sort brings the stages into the order of growing: kind by kind, of each few suspects first.
func (s *Shelf) sort() {
	order := make([]int, len(s.Parts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		of := s.Offer.Stages
		return cmp.Or(cmp.Compare(of[a].Kind, of[b].Kind), cmp.Compare(of[a].Suspects, of[b].Suspects))
	})
	stages, parts := s.Offer.Stages, s.Parts
	s.Offer.Stages, s.Parts = nil, nil
	for _, i := range order {
		s.Offer.Stages, s.Parts = append(s.Offer.Stages, stages[i]), append(s.Parts, parts[i])
	}
}

// stock is that of one stage.
func (s *Shelf) stock(stage int) (*build.Stock, error) {
	var part Part
	if err := json.Unmarshal(s.Parts[stage], &part); err != nil {
		return nil, fmt.Errorf("practice: a stage of pack %q: %w", s.Offer.Pack, err)
	}
	l := *s.Frames[s.Offer.Stages[stage].Kind.frame()].Lab
	l.Pack.Source = s.Source
	l.Repairs, l.Hypotheses, l.Checks, l.Cases = part.Repairs, part.Hypotheses, part.Checks, part.Cases
	return &build.Stock{Lab: &l, Rows: part.Rows}, nil
}

// circuit is the drawing that the pages of a stage show.
func (s *Shelf) circuit(stage int) string {
	return s.Frames[s.Offer.Stages[stage].Kind.frame()].Circuit
}

// Encode writes a shelf as compressed JSON.
func (s *Shelf) Encode() ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if err := json.NewEncoder(z).Encode(s); err != nil {
		return nil, err
	}
	err = z.Close()
	return out.Bytes(), err
}

// Decode reads a shelf.
func Decode(data []byte) (*Shelf, error) {
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("practice: a shelf: %w", err)
	}
	text, err := io.ReadAll(z)
	if err != nil {
		return nil, fmt.Errorf("practice: a shelf: %w", err)
	}
	s := new(Shelf)
	if err := json.Unmarshal(text, s); err != nil {
		return nil, fmt.Errorf("practice: a shelf: %w", err)
	}
	if len(s.Parts) == 0 || len(s.Parts) != len(s.Offer.Stages) {
		return nil, errors.New("practice: a shelf has nothing on it")
	}
	for _, stage := range s.Offer.Stages {
		if s.Frames[stage.Kind.frame()] == nil {
			return nil, fmt.Errorf("practice: a shelf lacks what stage %q stands on", stage.ID())
		}
	}
	return s, nil
}
