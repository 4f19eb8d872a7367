package competency

import (
	"bytes"
	"cmp"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"fmt"
	"strings"

	"nospark/grading/evidence"
	"nospark/scenarios"
	"nospark/scenarios/roster"
)

// AwardsFile is the register of awards in the folder of a term.
const AwardsFile = "awards.csv"

// Award is a decision that a student is competent, frozen with what it rests on; or its withdrawal by a person. A
// register is only ever added to: what follows from later evidence or another rule is a proposal.
type Award struct {
	Place      string // "awards.csv:7"
	Date       string // of the decision, 2006-01-02
	Student    string // id
	Competency string // id
	What       string // Awarded or Withdrawn
	By         string
	Rule       string // in words; of a withdrawal the reason
	Evidence   string // the opportunities of the window: lab, sheet, sign
	Hash       string // chains the line to those before it, keyed
}

// What a line of the register does.
const (
	Awarded   = "award"
	Withdrawn = "withdraw"
)

var awardHeader = []string{"date", "id", "competency", "what", "by", "rule", "evidence", "hash"}

// fields are the cells of a line before its hash.
func (a *Award) fields() []string {
	return []string{a.Date, a.Student, a.Competency, a.What, a.By, a.Rule, a.Evidence}
}

// hash is HMAC-SHA-256 over the hash of the line before and the cells of this one, under a key of its own made from the
// term's: a line can be neither changed nor taken out nor put in by somebody without the key.
func (a *Award) hash(key scenarios.Key, before string) string {
	own := hmac.New(sha256.New, key[:])
	own.Write([]byte("awards"))
	mac := hmac.New(sha256.New, own.Sum(nil))
	for _, text := range append([]string{before}, a.fields()...) {
		fmt.Fprintf(mac, "%d:%s", len(text), text) // the length keeps two cells from passing for one
	}
	return hex.EncodeToString(mac.Sum(nil))
}

// ParseAwards reads a register; file is its name for errors. It gives the lines up to the first that is wrong, and what
// is wrong with that one.
func ParseAwards(file string, data []byte, key scenarios.Key) ([]Award, error) {
	lines, err := parseLines(file, data, awardHeader)
	if err != nil {
		return nil, err
	}
	var list []Award
	before := ""
	for _, l := range lines {
		c := make([]string, len(l.cells))
		for i, cell := range l.cells {
			c[i] = roster.Original(cell)
		}
		a := Award{Place: l.place, Date: c[0], Student: c[1], Competency: c[2], What: c[3], By: c[4], Rule: c[5],
			Evidence: c[6], Hash: c[7]}
		if !hmac.Equal([]byte(a.Hash), []byte(a.hash(key, before))) {
			return list, fmt.Errorf("%s: this line, or one before it, was changed or taken out; restore the "+
				"file from a copy", l.place)
		}
		before = a.Hash
		list = append(list, a)
	}
	return list, nil
}

// AddAwards gives the register with more lines; data is what is in the file, nil for none. Nothing of it changes.
func AddAwards(file string, data []byte, key scenarios.Key, more []Award) ([]byte, error) {
	before := ""
	out := bytes.NewBuffer(bytes.Clone(data))
	w := csv.NewWriter(out)
	if len(data) == 0 {
		if err := w.Write(awardHeader); err != nil {
			return nil, err
		}
	} else {
		have, err := ParseAwards(file, data, key)
		if err != nil {
			return nil, err
		}
		if n := len(have); n > 0 {
			before = have[n-1].Hash
		}
		if !bytes.HasSuffix(data, []byte("\n")) {
			out.WriteByte('\n')
		}
	}
	for _, a := range more {
		for _, text := range []*string{&a.Date, &a.Student, &a.Competency, &a.What, &a.By, &a.Rule, &a.Evidence} {
			*text = cmp.Or(strings.Join(strings.Fields(*text), " "), "-") // one line, no empty cell
		}
		before = a.hash(key, before)
		row := append(a.fields(), before)
		for i := range row {
			row[i] = roster.Neutralise(row[i])
		}
		if err := w.Write(row); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// Proposal is a line that the register might get: recomputation proposes, a person decides.
type Proposal struct {
	Student    *Student
	Competency evidence.Competency
	Award      Award
}

// Proposals lists who is competent by the rule without an award, and whose award the rule would not give now.
func (t *Term) Proposals() (award, look []Proposal) {
	for i := range t.Students {
		s := &t.Students[i]
		for c := range s.Standings {
			x := &s.Standings[c]
			a := Award{Student: s.ID, Competency: t.Competencies[c].ID, What: Awarded, Rule: RuleWords(t.Term.Mastery),
				Evidence: x.window()}
			if x.Signed != nil {
				a.By = x.Signed.By
			}
			p := Proposal{s, t.Competencies[c], a}
			switch {
			case x.Computed == Competent && x.Award == nil:
				award = append(award, p)
			case x.Computed != Competent && x.Award != nil:
				look = append(look, p)
			}
		}
	}
	return award, look
}

// window writes the opportunities that the rule looks at, oldest first.
func (s *Standing) window() string {
	var list []string
	for _, o := range s.Opportunities[len(s.Opportunities)-s.Window:] {
		list = append(list, fmt.Sprintf("%s %s %s", o.Record.Lab, o.Entry.Sheet, Sign(o.Evidence.Met)))
	}
	return strings.Join(list, "; ")
}

// award gives the awards to whom they are for; the last line for a student and competency counts. at and place are the
// indexes of students and competencies by id.
func (g *gathering) award(at, place map[string]int) {
	for i := range g.t.Awards {
		a := &g.t.Awards[i]
		k, known := at[a.Student]
		c, there := place[a.Competency]
		switch {
		case !known || !there:
			g.problem(a.Place, "nothing, if the records were left elsewhere; the award stands in the register",
				"no record speaks of student %q and competency %q", a.Student, a.Competency)
		case a.What == Awarded:
			g.t.Students[k].Standings[c].Award = a
		default:
			g.t.Students[k].Standings[c].Award = nil
		}
	}
}
