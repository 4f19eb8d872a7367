package main

import (
	"path/filepath"

	"nospark/grading/attempt/journal"
	"nospark/scenarios/disk"
)

// journalOf names the lab to its journal. Without the term's key it can be read, but not checked.
func (g *graded) journalOf() journal.Lab {
	l := journal.Lab{Name: g.lab.Name, Term: g.lab.Term}
	if g.dir != "" {
		l.Key = journal.KeyFor(g.key[:], g.lab.Name)
	}
	return l
}

// readBench reads what the bench recorded, closed or not, and notes what an instructor should know about it.
func (g *graded) readBench(folder string) (journal.Content, error) {
	c, err := journal.Read(folder, g.journalOf())
	if err != nil {
		return c, err
	}
	file := disk.ShowName(filepath.Join(folder, filepath.FromSlash(journal.File)))
	if c.Torn {
		g.notes = append(g.notes, file+": its last line was torn by a crash; nothing of it had been shown, and it "+
			"does not count")
	}
	if !c.Checked {
		g.notes = append(g.notes, file+": whether it was changed cannot be checked here")
	}
	return c, nil
}
