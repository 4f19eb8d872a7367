// Department makes the term of an invented department: 240 students, 6 instructors, 11 sections and 12 labs, and the
// cohort of the year before, as records in a term's folder.
//
//	go run ./testdata/department DIR
//
// Nobody is taught anything: abilities are constant, section S04 is 20 points weaker, and nobody finds a chafed wire.
// The coordinator's page has to say so.
package main

import (
	"fmt"
	"log"
	"math/rand/v2"
	"os"
	"path/filepath"

	"nospark/grading"
	"nospark/grading/evidence"
	"nospark/scenarios/term"
)

const (
	sections = 11
	labs     = 12
	students = 240
)

var (
	instructors = []string{"Quill", "Ostrow", "Vantreight", "Example", "Muster", "Sample"}
	packs       = []string{"single-coil", "double-ended", "coil-per-plug", "reluctor"}
	kinds       = []string{"source-voltage", "voltage-drop", "ground-integrity", "signal-checks", "component-test",
		"secondary-and-spark",
		"timing-inputs"}
)

func main() {
	if len(os.Args) != 2 {
		log.Fatal("usage: department DIR")
	}
	if err := write(os.Args[1]); err != nil {
		log.Fatal(err)
	}
}

func write(dir string) error {
	if err := os.MkdirAll(filepath.Join(dir, "records"), 0o755); err != nil {
		return err
	}
	key := term.Key{7}
	if err := term.WriteKey(filepath.Join(dir, term.KeyFile), key); err != nil {
		return err
	}
	autumn := "id = \"department-2026\"\nprogram = \"Automotive Technology (invented)\"\ncohort = \"2026 fall\"\n"
	if err := os.WriteFile(filepath.Join(dir, term.File), []byte(autumn), 0o644); err != nil {
		return err
	}
	for cohort, year := range []int{2025, 2026} {
		random := rand.New(rand.NewPCG(uint64(year), 1))
		ability := make([]float64, students)
		for i := range ability {
			ability[i] = .55 + .15*random.NormFloat64()
			if i%sections == 3 && year == 2026 {
				ability[i] -= .2
			}
		}
		for at := range labs * sections {
			lab, s := at/sections, at%sections
			r := record(year, lab, s)
			for i := s; i < students; i += sections {
				r.Students = append(r.Students, sheet(random, cohort, i, lab, ability[i]))
			}
			data, err := r.Encode(key)
			if err != nil {
				return err
			}
			if err := os.WriteFile(filepath.Join(dir, "records", r.FileName()), data, 0o600); err != nil {
				return err
			}
		}
	}
	return nil
}

func record(year, lab, section int) *evidence.Record {
	return &evidence.Record{Format: evidence.Format, Program: "Automotive Technology (invented)",
		Term: fmt.Sprintf("department-%d", year),
		Lab:  fmt.Sprintf("week%02d", lab+1), Title: fmt.Sprintf("Lab %d", lab+1),
		Date:    fmt.Sprintf("%d-%02d-%02d", year, 9+lab/4, 1+7*(lab%4)),
		Section: fmt.Sprintf("S%02d", section+1), Instructor: instructors[section%len(instructors)], Course: "AUTO 140",
		Campus: []string{"North", "South"}[section%2], Cohort: fmt.Sprintf("%d fall", year),
		Pack: packs[lab%len(packs)], Version: 1, Reference: 60,
		Students: []evidence.Entry{}}
}

// sheet draws what a student does on a lab.
func sheet(random *rand.Rand, cohort, student, lab int, ability float64) evidence.Entry {
	fault := random.IntN(8)
	e := evidence.Entry{Student: fmt.Sprintf("%d%04d", cohort+1, student+1), Name: fmt.Sprintf("Given Family%03d",
		(student*7)%students),
		Family: fmt.Sprintf("Family%03d", (student*7)%students), Sheet: fmt.Sprintf("K%d-%03d", lab%8+2, student),
		Status: grading.Graded, Worked: true,
		Complaint: "no-start", Fault: fmt.Sprintf("fault-%d", fault), Label: fmt.Sprintf("Fault number %d", fault),
		Repair: fmt.Sprintf("repair-%d", fault%5), Minutes: 90, Best: 60, Evidence: []evidence.Item{}}
	if random.IntN(20) == 0 {
		e.Status, e.Worked = grading.Blank, false
		return e
	}
	chance := min(.97, max(.03, ability-.02*float64(lab%3)))
	add := func(id, why string) bool {
		met := random.Float64() < chance
		e.Evidence = append(e.Evidence, evidence.Item{Competency: id, Met: met, Step: len(e.Evidence) + 1,
			Test: "volts", Why: why})
		return met
	}
	for k, id := range kinds {
		if (fault+k+lab)%3 != 0 {
			add(id, "1 of 2 verdicts right")
		}
	}
	add(evidence.Economy, "lost 4.20 minutes, reference 6.0")
	e.Proven = add(evidence.Proof, "wrong repair, before the proof")
	e.Right = e.Proven || random.Float64() < chance/2
	if fault == 7 {
		e.Fault, e.Label, e.Right, e.Proven = "chafed", "Chafed wire", false, false
	}
	add(evidence.SafeWorking, "yes")
	e.Asked, e.Agreed = 4, random.IntN(5)
	e.Adjusted = random.IntN(30) == 0
	e.Mark = min(100, max(0, 100*(ability+.2*random.NormFloat64())))
	if !e.Right {
		e.Mark = max(0, e.Mark-15)
	}
	return e
}
