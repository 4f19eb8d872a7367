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
	Faults    int    `json:"faults"`
	Repairs   int    `json:"repairs"`
	Suspects  int    `json:"suspects"`
}

// Shelf holds the stocks of one pack. What they share is kept once.
type Shelf struct {
	Offer Offer             `json:"offer"`
	Frame *lab.Lab          `json:"frame"` // what the stages have in common
	Parts []json.RawMessage `json:"parts"` // a Part of each stage, read when somebody wants it

	Circuit string `json:"circuit"` // as the pages show it
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

// leastRepairs is how many different repairs a complaint must have to be worth practicing.
const leastRepairs = 2

// NewShelf works out all complaints of a pack that are worth practicing. Progress is told after each.
func NewShelf(ctx context.Context, file string, text []byte, progress func(done, total int)) (*Shelf, error) {
	p, err := pack.Parse(file, text)
	if err != nil {
		return nil, err
	}
	matrix, err := vehicle.NewMatrix(p)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	s := &Shelf{Offer: Offer{Pack: p.Name, Title: p.Title, Tests: len(p.Tests)}}
	given := map[int]bool{}
	for _, r := range matrix.Rows {
		given[r.Complaint] = true
	}
	var failed []error
	for i, c := range p.Complaints {
		progress(i, len(p.Complaints))
		if !given[i] {
			continue
		}
		stock, err := stockOf(ctx, p, c.ID, file, text, matrix)
		switch {
		case ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil: // one that needs no testing is nothing to practice; only where all fail it is told
			failed = append(failed, err)
		default:
			if err := s.add(c, stock); err != nil {
				return nil, err
			}
		}
	}
	progress(len(p.Complaints), len(p.Complaints))
	if len(s.Parts) == 0 {
		return nil, errors.Join(append(failed, fmt.Errorf("%s: no complaint of the pack is worth practicing", file))...)
	}
	s.sort()
	first, err := s.stock(0)
	if err != nil {
		return nil, err
	}
	s.Circuit, err = web.Circuit(first.Lab)
	return s, err
}

func stockOf(ctx context.Context, p *pack.Pack, complaint, file string, text []byte,
	matrix *vehicle.Matrix) (*build.Stock, error) {
	plan, err := term.ParsePlan("practice.toml", fmt.Sprintf("title = \"Practice\"\ndate = 2000-01-01\npack = "+
		"%q\ncomplaint = %q\n", p.Name, complaint))
	if err != nil {
		return nil, err
	}
	t := term.Term{ID: "practice", Program: program, Paper: "letter", Rubric: term.DefaultRubric(), Mastery: Rule()}
	return build.NewStock(ctx, build.Input{Term: t, Plan: plan, Key: key(), PackFile: file, Pack: string(text),
		Matrix: matrix})
}

// add puts a stock on the shelf unless it is too small.
func (s *Shelf) add(c pack.Complaint, stock *build.Stock) error {
	l := stock.Lab
	faults, repairs := map[int]bool{}, map[int]bool{}
	for _, h := range l.Hypotheses {
		faults[h.Fault] = true
		repairs[l.Faults[h.Fault].Repair] = true
	}
	if len(repairs) < leastRepairs {
		return nil
	}
	part, err := json.Marshal(Part{l.Repairs, l.Hypotheses, l.Checks, l.Cases, stock.Rows})
	if err != nil {
		return err
	}
	s.Offer.Stages = append(s.Offer.Stages, Stage{c.ID, c.Label, len(faults), len(repairs), len(l.Hypotheses)})
	s.Parts = append(s.Parts, part)
	if s.Frame == nil {
		frame := *l
		frame.Repairs, frame.Hypotheses, frame.Checks, frame.Cases = nil, nil, nil, nil
		s.Frame = &frame
	}
	return nil
}

// sort brings the stages into the order of growing: few suspects first.
func (s *Shelf) sort() {
	order := make([]int, len(s.Parts))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(s.Offer.Stages[a].Suspects,
			s.Offer.Stages[b].Suspects)
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
	l := *s.Frame
	l.Repairs, l.Hypotheses, l.Checks, l.Cases = part.Repairs, part.Hypotheses, part.Checks, part.Cases
	return &build.Stock{Lab: &l, Rows: part.Rows}, nil
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
	if s.Frame == nil || len(s.Parts) == 0 || len(s.Parts) != len(s.Offer.Stages) {
		return nil, errors.New("practice: a shelf has nothing on it")
	}
	return s, nil
}
