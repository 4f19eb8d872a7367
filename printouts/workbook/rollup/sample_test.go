package rollup

import (
	"fmt"
	"math/rand"
	"testing"

	"nospark/grading"
	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/grading/evidence"
	"nospark/printouts/workbook/workbooktest"
	"nospark/scenarios/term"
)

// sampleTerm is an invented term: students of whom each has a chance to meet an opportunity that grows from lab to lab,
// with sheets that were not handed in, provisional ones, instructors' columns, an own competency of a pack, sign-offs
// and a file that cannot be read.
func sampleTerm(t testing.TB, labs, sections, students int) *competency.Term {
	t.Helper()
	key := term.Key{5}
	autumn := term.Term{ID: "test-term-1", Program: "Automotive Technology", Paper: "letter",
		Mastery: term.DefaultMastery(), Tasks: []term.Task{
			{Competency: "source-voltage", Code: "A.3", Title: "Check the battery and its connections", Priority: "P-1",
				Taught: true},
			{Competency: "ground-integrity", Code: "A.7", Title: "Check grounds under load", Priority: "P-1",
				Taught: true},
			{Competency: "timing-inputs", Code: "B.2", Title: "Check the inputs of spark timing", Priority: "P-2",
				Taught: false},
			{Competency: "welding", Code: "Z.9", Title: "=1+1", Taught: true},
		}}
	random := rand.New(rand.NewSource(11))
	var files []competency.File
	var signed []lists.SignOff
	for l := range labs {
		for s := range sections {
			r := sampleRecord(l, s)
			for i := range students {
				r.Students = append(r.Students, sampleEntry(random, l, s*students+i))
			}
			data, err := r.Encode(key)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, competency.File{Name: r.FileName(), Data: data})
		}
	}
	for i := range sections * students {
		for k, c := range evidence.Table() {
			if i%3 == 0 && k%2 == 1 {
				signed = append(signed, lists.SignOff{Place: fmt.Sprintf("signoffs.csv:%d", len(signed)+2),
					Student: sampleID(i), Competency: c.ID, Date: "2026-12-11", By: "Instructor Example"})
			}
		}
	}
	files = append(files, competency.File{Name: "zz-broken.json", Data: []byte(`{"format":1,`)})
	return competency.Gather(files, competency.Options{Term: autumn, Key: &key, SignOffs: signed})
}

// sampleID begins with zeros, which spreadsheets like to take away.
func sampleID(i int) string { return fmt.Sprintf("%05d", 17+i) }

// sampleRecord is the record of a lab and a section, both counted from 0, without students yet; labs are about a week
// apart.
func sampleRecord(lab, section int) *evidence.Record {
	return &evidence.Record{Format: evidence.Format, Program: "Automotive Technology", Term: "test-term-1",
		Lab:   fmt.Sprintf("week%02d", lab+1),
		Title: fmt.Sprintf("Lab %d", lab+1), Date: fmt.Sprintf("2026-%02d-%02d", 9+(7*lab)/28, 1+(7*lab)%28),
		Section: "S" + fmt.Sprint(section+1), Pack: []string{"single-coil", "waste-spark"}[lab%2],
		Version: 1, Reference: 65, Students: []evidence.Entry{}}
}

// sampleEntry is a student's sheet. Every fourth student hardly improves; ground tests are hard for every third.
func sampleEntry(random *rand.Rand, lab, i int) evidence.Entry {
	name := workbooktest.SampleName(i)
	e := evidence.Entry{Student: sampleID(i), Name: name, Sheet: fmt.Sprintf("%c%d-%03d", 'B'+rune(i%20), 2+lab%8,
		i%1000), Status: grading.Graded, Worked: true,
		Fault: fmt.Sprintf("fault-%02d", (i+lab)%6), Repair: fmt.Sprintf("repair-%d", (i+lab)%4),
		Evidence: []evidence.Item{}}
	switch random.Intn(20) {
	case 0:
		e.Status, e.Worked = grading.Blank, false
		return e
	case 1:
		e.Status = grading.Provisional
		return e
	}
	chance := 0.45 + 0.05*float64(lab)
	if i%4 == 3 {
		chance = 0.35
	}
	add := func(id, test, why string, step int, chance float64) bool {
		met := random.Float64() < chance
		e.Evidence = append(e.Evidence, evidence.Item{Competency: id, Met: met, Step: step, Test: test, Why: why})
		return met
	}
	step := 0
	for k, c := range evidence.Table()[:7] {
		own := chance
		if c.ID == "ground-integrity" && i%3 == 0 {
			own -= .3
		}
		if (lab+k+i)%7 < 4 && (c.ID != "timing-inputs" || lab > 7) {
			step++
			add(c.ID, fmt.Sprintf("volts to battery -, cranking, at %d module ground", 5+k), "1 of 1 verdicts right",
				step, own)
		}
	}
	if lab%5 == 4 {
		step++
		add("relay-logic", "=relay, coil side", "1 of 1 verdicts right", step, chance)
	}
	add(evidence.Economy, "", "lost 1.20 minutes, reference 6.5", 0, chance)
	e.Proven = add(evidence.Proof, "", "right, and proven", 0, chance)
	e.Right = e.Proven || random.Float64() < chance
	if lab%2 == 0 {
		add(evidence.Reasoning, "", "3 of 4", 0, chance)
	}
	add(evidence.SafeWorking, "", "yes", 0, .9)
	e.Asked = step + 1
	e.Agreed = step + random.Intn(2)
	e.Mark = float64(int(1000*min(1, chance*(.6+.6*random.Float64())))) / 10
	return e
}
