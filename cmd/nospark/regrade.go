package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/term"

	"nospark/grading"
	"nospark/grading/evidence"
	"nospark/scenarios/disk"
	"nospark/scenarios/roster"
	"nospark/scenarios/tabular"
)

// asking is how an instructor agrees to losing marks: beforehand, or at the terminal.
type asking struct {
	really bool
	in     io.Reader
	out    io.Writer
}

// losses lists the students who had a mark, by the records or by the gradebook in the lab's folder, and would have
// none. Excusing somebody is a decision and no loss.
func (g *graded) losses(folder string) ([]string, error) {
	had, err := marksBefore(filepath.Join(folder, "graded", "gradebook.csv"))
	if err != nil {
		return nil, err
	}
	for _, file := range g.recordsBefore {
		r, err := evidence.Decode(file.Path, file.Data)
		if err != nil {
			continue // a record that cannot be read says nothing; it is kept in the history
		}
		had = append(had, markedIn(r)...)
	}
	now := map[string]grading.Status{}
	var ids []string
	for _, m := range g.result.Marks {
		now[m.Student] = m.Status
		ids = append(ids, m.Student)
	}
	slices.Sort(had)
	had = slices.Compact(had)
	same := roster.SameIDs(had, ids) // somebody on a spare, written with and without zeros
	return slices.DeleteFunc(had, func(id string) bool {
		s := now[cmp.Or(same[id], id)]
		return s.HasMark() || s == grading.Excused
	}), nil
}

// markedIn lists who has a mark by a record: of several vehicles none may be missing.
func markedIn(r *evidence.Record) []string {
	with, without := map[string]bool{}, map[string]bool{}
	for _, e := range r.Students {
		with[e.Student] = with[e.Student] || e.Status.HasMark()
		without[e.Student] = without[e.Student] || e.Status == grading.Blank
	}
	var had []string
	for _, id := range slices.Sorted(maps.Keys(with)) {
		if with[id] && !without[id] {
			had = append(had, id)
		}
	}
	return had
}

// marksBefore reads who has a mark in a gradebook.csv of ours.
func marksBefore(path string) ([]string, error) {
	if !isFile(path) {
		return nil, nil
	}
	var had []string
	err := eachRow(path, "mark", func(id, mark string) {
		if mark != "" {
			had = append(had, id)
		}
	})
	return had, err
}

// eachRow gives id and another cell of each row of a gradebook.csv of ours. One that is no table any more, or lacks a
// column, says nothing.
func eachRow(path, column string, row func(id, cell string)) error {
	data, err := disk.Read(path, packLimit)
	if err != nil {
		return err
	}
	t, err := tabular.ReadTable(data, tabular.Options{Separator: ','})
	if err != nil {
		return nil
	}
	id, at := tabular.Find(t.Heading.Cells, []string{"id"}), tabular.Find(t.Heading.Cells, []string{column})
	for _, r := range t.Rows {
		if id >= 0 && at >= 0 {
			row(r.Cells[id], r.Cells[at])
		}
	}
	return nil
}

// mostTold is how many things to look at stand beside a refusal: what is wrong with the entries is mostly the first.
const mostTold = 5

// agree stops a grading that would take marks away, unless the instructor wants it.
func (g *graded) agree(folder string, ask asking) error {
	lost, err := g.losses(folder)
	if err != nil || len(lost) == 0 || ask.really {
		return err
	}
	what := fmt.Sprintf("%d students who had a mark would have none: %s", len(lost), quoteSome(lost))
	if len(lost) == 1 {
		what = fmt.Sprintf("1 student who had a mark would have none: %q", lost[0])
	}
	what = fmt.Sprintf("%s: %s; is a file missing in %s?", folder, what, filepath.Join(folder, "entries"))
	if f, isFile := ask.in.(*os.File); isFile && term.IsTerminal(int(f.Fd())) {
		fmt.Fprintf(ask.out, "%s\nGrade all the same? Type yes to do so. ", what)
		answer, _ := bufio.NewReader(ask.in).ReadString('\n') // no answer is no yes
		if strings.TrimSpace(answer) == "yes" {
			return nil
		}
		return fmt.Errorf("%s: nothing was written", folder)
	}
	what += " nothing was written; to grade all the same: nospark grade --really " + folder
	for i, p := range g.result.Problems {
		if i == mostTold {
			break
		}
		what += fmt.Sprintf("\n  look: %s: %s; %s", p.Place, p.What, p.Do)
	}
	return errors.New(what)
}

// quoteSome quotes the first few of a list and says how many more there are.
func quoteSome(list []string) string {
	const most = 5
	quoted := make([]string, 0, most)
	for _, text := range list[:min(len(list), most)] {
		quoted = append(quoted, fmt.Sprintf("%q", text))
	}
	text := strings.Join(quoted, ", ")
	if len(list) > most {
		text += fmt.Sprintf(" and %d more", len(list)-most)
	}
	return text
}

// checkName tells of a lab in a folder of another name: a copy may not overwrite the records of the lab it was made
// from.
func (g *graded) checkName(folder string, ask asking) {
	full, err := filepath.Abs(folder)
	if err != nil || filepath.Base(full) == g.lab.Name || g.dir == "" {
		return
	}
	note := fmt.Sprintf("%s: holds the lab %q, not one of this name", folder, g.lab.Name)
	if !ask.really {
		g.dir = ""
		note += "; no records are kept from it"
	}
	g.notes = append(g.notes, note)
}
