package lab

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"nospark/scenarios/pack"
	"nospark/scenarios/pack/cards"
)

// SpecRow says what a good reading is, for all tests that share the words.
type SpecRow struct {
	Where string // "feed" or the test's label
	Meter string // label of the instrument, or of its column in the grid
	When  string // labels of the conditions
	Good  string // "at most 0.50 V below the battery reading printed beside it"
}

// Specs is the table of specifications: tests with the same place, meter and words share a row that lists their
// conditions. A test of the grid has the role of its point for its place, so that a pack of twenty points makes do with
// a dozen rows; tests of which each examines another of several equal parts share a row too. The rows of one place
// stand together. Where two rows would give the same role different words, both name their points.
func (l *Lab) Specs(p *pack.Pack) []SpecRow {
	var groups []specGroup
	place := map[SpecRow]int{}
	for _, t := range l.Tests {
		row := SpecRow{Where: t.Label, Meter: MeterLabel(t.Instrument), Good: t.Spec}
		number := 0
		if t.Column >= 0 {
			row.Where = l.Points[t.Point].Label
			if role := l.Points[t.Point].Role; role != "" {
				row.Where, number = RoleName(role), l.Points[t.Point].Number
			}
			row.Meter = l.Columns[t.Column].Label // as it stands over the grid
		} else {
			row.Where = strings.TrimSuffix(t.Label, ", "+t.Condition) // a test declared for several conditions
		}
		at, known := place[row]
		if !known {
			at = len(groups)
			place[row] = at
			groups = append(groups, specGroup{row: row, when: map[int][]string{}})
		}
		groups[at].when[number] = append(groups[at].when[number], t.Condition)
	}
	var rows []SpecRow
	for _, g := range groups {
		for _, part := range g.split(groups) {
			part.row.When = joinConditions(p, part.all())
			rows = append(rows, part.row)
		}
	}
	return together(folded(folded(rows, byNumber), bySubject))
}

// specGroup is a row of the table while it is gathered.
type specGroup struct {
	row  SpecRow
	when map[int][]string // conditions by number of the point; 0 where the row names no role
}

// all lists the conditions of all points, some of them several times.
func (g specGroup) all() []string { return slices.Concat(slices.Collect(maps.Values(g.when))...) }

// contradicts tells whether two rows would give the same role, meter and condition different words.
func (g specGroup) contradicts(o specGroup) bool {
	return o.row != g.row && o.row.Where == g.row.Where && o.row.Meter == g.row.Meter && g.when[0] == nil &&
		slices.ContainsFunc(o.all(), func(c string) bool { return slices.Contains(g.all(), c) })
}

// split gives the group itself, or where others contradict it a group for each set of points that share their
// conditions, named by them.
func (g specGroup) split(others []specGroup) []specGroup {
	if !slices.ContainsFunc(others, g.contradicts) {
		return []specGroup{g}
	}
	var parts []specGroup
	for _, number := range slices.Sorted(maps.Keys(g.when)) {
		at := slices.IndexFunc(parts, func(o specGroup) bool {
			for _, when := range o.when { // they are all the same
				return slices.Equal(when, g.when[number])
			}
			return false
		})
		if at < 0 {
			at = len(parts)
			parts = append(parts, specGroup{row: g.row, when: map[int][]string{}})
		}
		parts[at].when[number] = g.when[number]
	}
	for i := range parts {
		parts[i].row.Where += " at " + pointNumbers(slices.Collect(maps.Keys(parts[i].when)))
	}
	return parts
}

// pointNumbers lists numbers of points in their order.
func pointNumbers(points []int) string {
	var texts []string
	for _, n := range slices.Sorted(slices.Values(points)) {
		texts = append(texts, strconv.Itoa(n))
	}
	if len(texts) == 1 {
		return texts[0]
	}
	return joinNumbers(texts)
}

// RoleName words a role for readers. Points before the ignition switch are feeds too, so the switch is left out.
func RoleName(role string) string {
	if role == string(pack.RoleFeed) {
		return "feed"
	}
	return strings.ReplaceAll(role, "-", " ")
}

// joinConditions lists conditions in the order of the pack. Their labels may hold commas.
func joinConditions(p *pack.Pack, when []string) string {
	var all []string
	for _, c := range p.Conditions {
		if slices.Contains(when, c.Label) {
			all = append(all, c.Label)
		}
	}
	return strings.Join(all, "; ")
}

// together moves rows of one place to the first of them and keeps their order otherwise.
func together(rows []SpecRow) []SpecRow {
	first := map[string]int{}
	for i, r := range rows {
		if _, known := first[r.Where]; !known {
			first[r.Where] = i
		}
	}
	slices.SortStableFunc(rows, func(a, b SpecRow) int { return cmp.Compare(first[a.Where], first[b.Where]) })
	return rows
}

// gap is a place's name in three pieces, of which the middle one tells equal parts apart.
type gap struct{ before, middle, after string }

// folded joins rows that differ only in one piece of the place's name. cuts gives the ways to cut a name, join words
// the pieces.
func folded(rows []SpecRow, way fold) []SpecRow {
	type key struct {
		row           SpecRow
		before, after string
	}
	keyOf := func(r SpecRow, g gap) key {
		r.Where = ""
		return key{r, g.before, g.after}
	}
	many := map[key][]string{}
	for _, r := range rows {
		for _, g := range way.cuts(r.Where) {
			k := keyOf(r, g)
			many[k] = append(many[k], g.middle)
		}
	}
	done := map[key]bool{}
	var out []SpecRow
next:
	for _, r := range rows {
		for _, g := range way.cuts(r.Where) {
			k := keyOf(r, g)
			if len(many[k]) < 2 {
				continue
			}
			if !done[k] {
				done[k] = true
				r.Where = g.before + way.join(many[k]) + g.after
				out = append(out, r)
			}
			continue next
		}
		out = append(out, r)
	}
	return out
}

// fold is a way to join rows.
type fold struct {
	cuts func(where string) []gap
	join func(pieces []string) string
}

// byNumber joins "Plug lead 1, end to end" and "Plug lead 2, end to end".
var byNumber = fold{numberCuts, joinNumbers}

// bySubject joins "ICM unplugged: volts" and "PCM unplugged: volts".
var bySubject = fold{
	cuts: func(where string) []gap {
		const mark = " unplugged: "
		part, rest, found := strings.Cut(where, mark)
		if !found || strings.Contains(part, " and ") { // with several parts taken off at once the list could be misread
			return nil
		}
		return []gap{{"", part, mark + rest}}
	},
	join: func(parts []string) string {
		last := len(parts) - 1
		return strings.Join(parts[:last], ", ") + " or " + parts[last]
	},
}

// numberCuts cuts a name at each number that stands as a word: those of parts, not the 5 of "5 V" or the 21 of "21 W".
func numberCuts(where string) []gap {
	var cuts []gap
	words := strings.SplitAfter(where, " ")
	at := 0
	for i, w := range words {
		number := strings.TrimRight(w, " ,;:")
		_, err := strconv.Atoi(number)
		unit := i+1 < len(words) && slices.Contains([]string{"V", "W", "A"}, strings.TrimRight(words[i+1], " ,;:"))
		if err == nil && i > 0 && !unit {
			cuts = append(cuts, gap{where[:at], number, where[at+len(number):]})
		}
		at += len(w)
	}
	return cuts
}

// joinNumbers words numbers: "1 to 4", "1 and 2", "1, 3 and 4".
func joinNumbers(numbers []string) string {
	first, _ := strconv.Atoi(numbers[0])
	last := len(numbers) - 1
	run := last > 1
	for i, n := range numbers {
		run = run && n == fmt.Sprint(first+i)
	}
	if run {
		return numbers[0] + " to " + numbers[last]
	}
	return strings.Join(numbers[:last], ", ") + " and " + numbers[last]
}

// meterLabel is the label of an instrument, its id when this program does not know it.
func MeterLabel(id string) string {
	if in := cards.InstrumentByID(id); in != nil {
		return in.Label
	}
	return id
}
