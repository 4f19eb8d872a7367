package competency

import (
	"bytes"
	"crypto/ed25519"
	"encoding/base64"
	"encoding/json"
	"strings"
	"testing"

	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

// instructorKey and departmentKey are keys of others than newKey, which is the coordinator's here.
func instructorKey() term.Key { return term.Key{7, 7} }
func departmentKey() term.Key { return term.Key{8, 8} }

// instructors gathers a term of one student who has not met "proof", and an award.
func instructors(t *testing.T) []byte {
	t.Helper()
	r := rec("week01", "2026-09-01", "A", "0042 Ann Example: proof- economy+")
	r.Term = "instructors-term"
	data, err := r.Encode(instructorKey())
	if err != nil {
		t.Fatal(err)
	}
	autumn := newTerm()
	autumn.ID = r.Term
	key := instructorKey()
	own := Gather([]File{{"w.json", data}}, Options{Term: autumn, Key: &key,
		Awards: []lists.Award{{Place: "awards.csv:2", Date: "2026-10-01", Student: "0042", Competency: "economy",
			What: lists.Awarded, By: "AQ"}}})
	packed, err := own.GatherRecords(key, departmentKey())
	if err != nil {
		t.Fatal(err)
	}
	return packed
}

// listing is the department that lists the instructor's key.
func listing() term.Term {
	d := newTerm()
	d.Mastery = term.Mastery{Met: 1, Of: 1, Faults: 1, Packs: 1, Labs: 1, Signed: true}
	d.Sources = []term.Source{{Name: "A. Quill", Public: PublicText(instructorKey())}}
	return d
}

// TestGathered: what an instructor has gathered counts in the department, under a pseudonym that is the same for an id
// with and without its zeros, and nothing of names, reasons, sheet codes or faults is in the file.
func TestGathered(t *testing.T) {
	data := instructors(t)
	key := newKey()
	d := Gather([]File{{"quill.gathered", data}}, Options{Term: listing(), Key: &key})
	if len(d.Records) != 1 || len(d.Students) != 1 || problems(d) != "" {
		t.Fatalf("%d records, %d students, %s", len(d.Records), len(d.Students), problems(d))
	}
	who := d.Students[0].ID
	if x := standing(t, d, who, "proof"); len(x.Opportunities) != 1 || x.Met != 0 {
		t.Errorf("proof: %+v", x)
	}
	if x := standing(t, d, who, "economy"); x.Met != 1 || x.Award == nil || x.Award.By != "AQ" ||
		x.Status != Competent {
		t.Errorf("economy: %+v", x)
	}
	p := pseudonyms{departmentKey()}
	if who != p.student("0042") || who != p.student("42") || who == p.student("43") ||
		who == (pseudonyms{newKey()}).student("0042") {
		t.Errorf("the pseudonym %s", who)
	}
	var g gathered
	if err := json.Unmarshal(data, &g); err != nil {
		t.Fatal(err)
	}
	for _, secret := range []string{"0042", "Ann", "Example", "K2-BCD", "lamp-open", "replace-lamp", "Lamp"} {
		if bytes.Contains(g.Payload, []byte(secret)) {
			t.Errorf("the file tells %q: %s", secret, g.Payload)
		}
	}
}

// TestForgeries: of twenty forged records, gathered files and registers none counts.
func TestForgeries(t *testing.T) {
	key := newKey()
	counted, tried := 0, 0
	// records: a forged one counts when somebody has met proof who has not, or is there who is nobody
	record := func(what, name string, data []byte) {
		t.Helper()
		tried++
		d := Gather([]File{{name, data}}, Options{Term: listing(), Key: &key})
		if len(d.Records) > 0 || len(d.Students) > 0 || len(d.Problems) == 0 {
			counted++
			t.Errorf("%s: %d records count, problems %q", what, len(d.Records), problems(d))
		}
	}
	own := string(encoded(t, rec("week01", "2026-09-01", "A", "1 Ann: proof-")))
	better := strings.Replace(own, `"met":false`, `"met":true`, 1)
	if better == own {
		t.Fatal("the sample has nothing to forge")
	}
	record("an own record made better", "a.json", []byte(better))
	record("of somebody else", "a.json", []byte(strings.Replace(own, `"student":"1"`, `"student":"2"`, 1)))
	record("of another day", "a.json", []byte(strings.Replace(own, "2026-09-01", "2026-10-01", 1)))
	another := string(encoded(t, rec("week02", "2026-09-08", "A", "1 Ann: proof+")))
	exchanged := strings.Replace(own, sealOf(t, own), sealOf(t, another), 1)
	if _, err := evidence.Decode("a.json", []byte(exchanged)); exchanged == own || err != nil {
		t.Fatalf("the seal was not exchanged, or the record cannot be read for another reason: %v", err)
	}
	record("with the seal of another", "a.json", []byte(exchanged))
	alien := rec("week01", "2026-09-01", "A", "1 Ann: proof+")
	sealed, err := alien.Encode(term.Key{9})
	if err != nil {
		t.Fatal(err)
	}
	record("sealed with another key", "a.json", sealed)
	alien.Term = "another-term"
	if sealed, err = alien.Encode(term.Key{9}); err != nil {
		t.Fatal(err)
	}
	record("of another term, every false made true", "a.json", sealed)

	good := instructors(t)
	change := func(edit func(g *gathered)) []byte {
		var g gathered
		if err := json.Unmarshal(good, &g); err != nil {
			t.Fatal(err)
		}
		edit(&g)
		data, err := json.Marshal(g)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	resign := func(g *gathered, with term.Key) {
		g.Signature = base64.StdEncoding.EncodeToString(ed25519.Sign(SigningKey(with), g.Payload))
	}
	makeBetter := func(g *gathered) {
		g.Payload = bytes.ReplaceAll(g.Payload, []byte(`"met":false`), []byte(`"met":true`))
	}
	record("gathered and made better", "q.gathered", change(makeBetter))
	record("made better and signed by somebody", "q.gathered",
		change(func(g *gathered) { makeBetter(g); resign(g, term.Key{9}) }))
	record("signed by somebody who says so", "q.gathered", change(func(g *gathered) {
		makeBetter(g)
		resign(g, term.Key{9})
		g.Public = PublicText(term.Key{9})
	}))
	record("without a signature", "q.gathered", change(func(g *gathered) { g.Signature = "" }))
	record("gathered by somebody who gathers the department's own term", "q.gathered", change(func(g *gathered) {
		g.Payload = bytes.ReplaceAll(g.Payload, []byte("instructors-term"), []byte(newTerm().ID))
		resign(g, instructorKey())
	}))
	record("a gathered file cut short", "q.gathered", good[:len(good)-20])

	// registers: a forged one counts when it is read without an error
	var book []byte
	for i, id := range []string{"1", "2", "3"} {
		a := lists.Award{Date: "2026-10-01", Student: id, Competency: "proof",
			What: []string{lists.Awarded, lists.Withdrawn, lists.Awarded}[i], By: "AQ", Rule: "r"}
		if book, err = lists.AddAwards("awards.csv", book, key, []lists.Award{a}); err != nil {
			t.Fatal(err)
		}
	}
	list, err := lists.ParseAwards("awards.csv", book, key)
	if err != nil {
		t.Fatal(err)
	}
	seal := lists.SealOf(list, key)
	register := func(what, text string) {
		t.Helper()
		tried++
		list, err := lists.ParseAwards("awards.csv", []byte(text), key)
		if err == nil && lists.CheckEnd("awards.csv", list, seal, key) == nil {
			counted++
			t.Errorf("%s counts", what)
		}
	}
	text := string(book)
	lines := strings.SplitAfter(text, "\n")
	register("an award of somebody else", strings.Replace(text, ",1,proof", ",9,proof", 1))
	register("of another competency", strings.Replace(text, ",1,proof", ",1,economy", 1))
	register("signed by another", strings.Replace(text, ",AQ,", ",BO,", 1))
	register("of an earlier day", strings.Replace(text, "2026-10-01", "2026-09-01", 1))
	register("a withdrawal made an award", strings.Replace(text, lists.Withdrawn, lists.Awarded, 1))
	register("a withdrawal taken out", lines[0]+lines[1]+lines[3])
	register("lines cut off at the end", lines[0]+lines[1])
	register("an award twice", text+lines[3])
	if tried != 20 || counted != 0 {
		t.Errorf("%d of %d forgeries count, want 0 of 20", counted, tried)
	}
	// The same, unforged, counts: what refuses everything would pass for safe.
	if d := Gather([]File{{"a.json", []byte(own)}, {"q.gathered", good}}, Options{Term: listing(),
		Key: &key}); len(d.Records) != 2 || problems(d) != "" {
		t.Errorf("unforged: %d records, %s", len(d.Records), problems(d))
	}
	if lists.CheckEnd("awards.csv", list, seal, key) != nil {
		t.Error("the unforged register is refused")
	}
}

// sealOf takes the seal out of the text of a record.
func sealOf(t *testing.T, text string) string {
	t.Helper()
	var r evidence.Record
	if err := json.Unmarshal([]byte(text), &r); err != nil || len(r.Seal) != 64 {
		t.Fatalf("the seal %q: %v", r.Seal, err)
	}
	return r.Seal
}

// TestGatheredIDs: two students whose ids differ by zeros alone would be one in the department, so nothing is gathered
// until that is settled; an alias settles it where they are one person.
func TestGatheredIDs(t *testing.T) {
	key := newKey()
	files := []File{{"w.json", encoded(t, rec("week01", "2026-09-01", "A", "007 Ann: proof+", "8 Cy: proof+"))},
		{"x.json", encoded(t, rec("week02", "2026-09-08", "A", "7 Bert: proof-"))}}
	_, err := Gather(files, Options{Term: newTerm(), Key: &key}).GatherRecords(key, departmentKey())
	if err == nil || !strings.Contains(err.Error(), `ids "007" and "7" differ by case or leading zeros alone`) {
		t.Errorf("two students under one pseudonym: %v", err)
	}
	one := Options{Term: newTerm(), Key: &key, Aliases: []lists.Alias{{Place: "aliases.csv:2", Old: "7", ID: "007"}}}
	if _, err := Gather(files, one).GatherRecords(key, departmentKey()); err != nil {
		t.Errorf("one person by aliases.csv: %v", err)
	}
}

// FuzzGathered: no bytes bring the reader down, and none but the signed ones count.
func FuzzGathered(f *testing.F) {
	f.Add([]byte(`{"format":1,"public":"","signature":"","payload":"e30="}`))
	f.Add([]byte("{"))
	f.Fuzz(func(t *testing.T, data []byte) {
		key := newKey()
		if d := Gather([]File{{"q.gathered", data}}, Options{Term: listing(), Key: &key}); len(d.Records) > 0 {
			t.Errorf("%q counts", data)
		}
	})
}
