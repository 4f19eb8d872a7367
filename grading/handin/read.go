package handin

import (
	"cmp"
	"slices"

	"nospark/grading/adjust"
	"nospark/grading/submission"
	"nospark/scenarios/lab"
)

// Class is what a class handed in: whose each row is, and what the instructor decided about it.
type Class struct {
	Entries   []Entry // what was handed in
	Everybody []Entry // and nothing for whoever handed in nothing, in the order of the lab's sheets
	Rulings   *Rulings
	Problems  []submission.Remark // what a person should look at
}

// Read finds whose each row is. rows may come in any order and from several files. The error is for an entry of
// adjust.toml about a student, sheet, test or repair that does not exist.
func Read(l *lab.Lab, rows []submission.Row, decided adjust.Decisions) (*Class, error) {
	m := newMatcher(l)
	var err error
	if m.rows, err = resolveRows(decided, m, rows); err != nil {
		return nil, err
	}
	c := &Class{Entries: m.match(rows)}
	c.Everybody = m.everybody(c.Entries)
	if c.Rulings, err = resolve(decided, m, c.Everybody); err != nil {
		return nil, err
	}
	c.Problems = m.problems
	return c, nil
}

// match gives each student who has a row one entry. What is wrong with the rows is in the matcher's problems.
func (m *matcher) match(rows []submission.Row) []Entry {
	strange := m.strangeFiles(rows)
	rows = slices.DeleteFunc(slices.Clone(rows), func(row submission.Row) bool { return strange[submission.FileAt(row.Place)] })
	rows = m.admit(rows)
	m.claims(rows)
	for _, row := range rows {
		if h, ok := m.place(row); ok {
			if _, known := m.byPerson[h.Student]; !known {
				m.order = append(m.order, h.Student)
			}
			m.byPerson[h.Student] = append(m.byPerson[h.Student], h)
		}
	}
	var all []Entry
	for _, student := range m.order {
		all = append(all, m.counting(m.byPerson[student])...)
	}
	return all
}

// counting decides what counts of all rows about a student: one row, or with several vehicles one for each. Rows with
// something in them come first: an empty row of the form does not take the place of a spare.
func (m *matcher) counting(rows []Entry) []Entry {
	if m.lab.Vehicles < 2 {
		return []Entry{m.merge(rows)}
	}
	var sheets []int
	of := map[int][]Entry{}
	for _, empty := range []bool{false, true} {
		for _, h := range rows {
			if h.Row.Empty() != empty {
				continue
			}
			if _, known := of[h.Sheet]; !known {
				if len(sheets) == m.lab.Vehicles {
					if !empty {
						m.problem(h.Row.Place, "delete the row that is none of this lab's",
							"student %s has rows on more than %d sheets; this one does not count",
							h.Student, m.lab.Vehicles)
					}
					continue
				}
				sheets = append(sheets, h.Sheet)
			}
			of[h.Sheet] = append(of[h.Sheet], h)
		}
	}
	var all []Entry
	for _, sheet := range sheets {
		all = append(all, m.merge(of[sheet]))
	}
	return all
}

// everybody lists whose work gets a result, in the order of the lab's sheets: what was handed in, on the sheet that was
// used, and for every student of the lab as many of the other own sheets, with nothing, as there are vehicles without a
// row.
func (m *matcher) everybody(entries []Entry) []Entry {
	all := slices.Clone(entries)
	counting, used := map[string]int{}, map[Work]bool{}
	for _, h := range entries {
		counting[h.Student]++
		used[h.Work] = true
	}
	for i, s := range m.lab.Sheets {
		if s.Student != "" && !used[Work{s.Student, i}] && counting[s.Student] < max(1, m.lab.Vehicles) {
			counting[s.Student]++
			h, _ := m.on(i, submission.Row{Reasoning: -1, Safe: -1})
			all = append(all, h)
		}
	}
	slices.SortStableFunc(all, func(a, b Entry) int { return cmp.Compare(a.Sheet, b.Sheet) })
	return all
}
