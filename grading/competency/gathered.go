package competency

import (
	"cmp"
	"crypto/ed25519"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"

	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/roster"
	"nospark/scenarios/term"
)

// GatheredEnd is the end of the name of a file of gathered records.
const GatheredEnd = ".gathered"

// gathered is such a file: what is signed stays the bytes that it is, so that nothing depends on how JSON is written.
type gathered struct {
	Format    int    `json:"format"`
	Public    string `json:"public"`    // the signer's key, base64
	Signature string `json:"signature"` // over the payload, base64
	Payload   []byte `json:"payload"`   // a payload as JSON
}

// payload is what a term tells a department: records and awards under pseudonyms.
type payload struct {
	Term    string            `json:"term"`
	Records []json.RawMessage `json:"records"`
	Awards  []lists.Award     `json:"awards"`
}

const gatheredFormat = 1

// SigningKey is the instructor's key of a term, made from the term's own, so that there is no second secret to keep.
func SigningKey(key term.Key) ed25519.PrivateKey {
	return ed25519.NewKeyFromSeed(derived(key, "gather signature"))
}

// PublicText is the public half, as a department lists it in its term.toml.
func PublicText(key term.Key) string {
	return base64.StdEncoding.EncodeToString(SigningKey(key).Public().(ed25519.PublicKey))
}

func derived(key term.Key, purpose string) []byte {
	mac := hmac.New(sha256.New, key[:])
	mac.Write([]byte(purpose))
	return mac.Sum(nil)
}

// pseudonyms stand for ids, sheets and faults: a keyed hash under the department's key, so that a student of two
// instructors is one student and nobody without that key can try ids.
type pseudonyms struct{ department term.Key }

func (p pseudonyms) of(kind, text string) string {
	if text == "" {
		return ""
	}
	own := hmac.New(sha256.New, derived(p.department, "pseudonyms"))
	fmt.Fprintf(own, "%s %s", kind, text)
	return hex.EncodeToString(own.Sum(nil)[:8])
}

func (p pseudonyms) student(id string) string { return "s-" + p.of("student", roster.BareID(id)) }

// record is a record without names, reasons, sheet codes or any hidden fault: which fault a sheet hid and what was
// concluded become pseudonyms too, of which only it matters that they differ. Students come in the order of theirs.
func (p pseudonyms) record(r *evidence.Record) *evidence.Record {
	out := *r
	out.Students = nil
	for _, e := range r.Students {
		e.Student, e.Sheet = p.student(e.Student), p.of("sheet", r.Term+" "+r.Lab+" "+e.Sheet)
		e.Name, e.Family, e.Why, e.Label = "", "", "", ""
		e.Fault, e.Repair = p.of("fault", r.Pack+" "+e.Fault), p.of("repair", r.Pack+" "+e.Repair)
		if e.Concluded != "" {
			e.Concluded = p.of("repair", r.Pack+" "+e.Concluded)
		}
		items := []evidence.Item{}
		for _, x := range e.Evidence { // which test best play needed tells of the fault
			items = append(items, evidence.Item{Competency: x.Competency, Met: x.Met})
		}
		e.Evidence = items
		out.Students = append(out.Students, e)
	}
	slices.SortFunc(out.Students, func(a, b evidence.Entry) int {
		return cmp.Or(cmp.Compare(a.Student, b.Student), cmp.Compare(a.Vehicle, b.Vehicle))
	})
	return &out
}

// GatherRecords packs the records of a term that count, and its awards in force, for a department: under pseudonyms of
// the department's key, signed with the instructor's. It is for a term that was read with its key.
// Ids that differ by leading zeros alone would be one student in the department, so they are refused.
func (t *Term) GatherRecords(key, department term.Key) ([]byte, error) {
	p := pseudonyms{department}
	if err := t.onePseudonymEach(); err != nil {
		return nil, err
	}
	all := payload{Term: t.Term.ID, Records: []json.RawMessage{}, Awards: []lists.Award{}}
	for _, r := range t.Records {
		if r.Term != t.Term.ID {
			continue // others gather their own
		}
		data, err := p.record(r).Encode(key)
		if err != nil {
			return nil, err
		}
		all.Records = append(all.Records, data)
	}
	for i := range t.Students {
		for c := range t.Students[i].Standings {
			a := t.Students[i].Standings[c].Award
			if a == nil || t.Competencies[c].Own {
				continue
			}
			all.Awards = append(all.Awards, lists.Award{Date: a.Date, Student: p.student(a.Student), Competency: a.Competency,
				What: lists.Awarded, By: a.By,
				Rule: a.Rule})
		}
	}
	slices.SortFunc(all.Awards, func(a, b lists.Award) int {
		return cmp.Or(cmp.Compare(a.Student, b.Student), cmp.Compare(a.Competency, b.Competency))
	})
	body, err := json.Marshal(all)
	if err != nil {
		return nil, err
	}
	sign := ed25519.Sign(SigningKey(key), body)
	return json.MarshalIndent(gathered{gatheredFormat, PublicText(key), base64.StdEncoding.EncodeToString(sign), body},
		"", " ")
}

// onePseudonymEach refuses two students who would get one pseudonym: it is made of the id without what spreadsheets
// lose, so that a student of two instructors is one.
func (t *Term) onePseudonymEach() error {
	first := map[string]string{} // id by what the pseudonym is made of
	for _, r := range t.Records {
		if r.Term != t.Term.ID {
			continue
		}
		for i := range r.Students {
			id := r.Students[i].Student
			bare := roster.BareID(id)
			if other, taken := first[bare]; taken && other != id {
				return fmt.Errorf("ids %q and %q differ by case or leading zeros alone, so the department would take "+
					"them for one student; give one of the two another id, or, if they are one person, write a line "+
					"old,id into %s", other, id, lists.AliasesFile)
			}
			first[bare] = id
		}
	}
	return nil
}

// openGathered checks a file of gathered records against the sources of the department's term.toml. The key that counts
// is the one listed, whatever the file says.
func openGathered(data []byte, sources []term.Source) (payload, string, error) {
	var g gathered
	if err := json.Unmarshal(data, &g); err != nil {
		return payload{}, "", fmt.Errorf("is no file of gathered records")
	}
	if g.Format != gatheredFormat {
		return payload{}, "", fmt.Errorf("is of format %d, this program reads %d", g.Format, gatheredFormat)
	}
	at := slices.IndexFunc(sources, func(s term.Source) bool { return s.Public == g.Public })
	if at < 0 {
		return payload{}, "", fmt.Errorf("is signed with a key that no [[source]] of term.toml lists")
	}
	public, err := base64.StdEncoding.DecodeString(sources[at].Public)
	sign, err2 := base64.StdEncoding.DecodeString(g.Signature)
	if err != nil || err2 != nil || len(public) != ed25519.PublicKeySize || !ed25519.Verify(public, g.Payload, sign) {
		return payload{}, "", fmt.Errorf("was changed after %s signed it", sources[at].Name)
	}
	var p payload
	if err := json.Unmarshal(g.Payload, &p); err != nil {
		return payload{}, "", fmt.Errorf("holds no records")
	}
	return p, sources[at].Name, nil
}

// GatheredUntil is the day of the latest record in a file of gathered records, whoever signed it; "" for one without
// any.
func GatheredUntil(data []byte) (day string, err error) {
	var g gathered
	var p payload
	if json.Unmarshal(data, &g) != nil || json.Unmarshal(g.Payload, &p) != nil {
		return "", fmt.Errorf("is no file of gathered records")
	}
	for _, raw := range p.Records {
		r, err := evidence.Decode("a record", raw)
		if err != nil {
			return "", err
		}
		day = max(day, r.Date)
	}
	return day, nil
}
