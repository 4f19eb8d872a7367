package lab

// FirstPaired is the first format of lab.json that says who holds whose readings.
const FirstPaired = 2

// Pair gives for each of n persons the place of who holds their readings sheet, -1 for the instructor. In each section
// two who follow each other hold each other's, and the last three of an odd number pass theirs round. Who is alone in a
// section, or in none, has the instructor.
func Pair(sections [][]int, n int) []int {
	held := make([]int, n)
	for i := range held {
		held[i] = -1
	}
	for _, round := range sections {
		for len(round) > 1 {
			n := 2
			if len(round) == 3 { // nobody stays alone
				n = 3
			}
			for k := range n {
				held[round[k]] = round[(k+1)%n]
			}
			round = round[n:]
		}
	}
	return held
}

// Sections lists the places of those of n persons who belong to each section, in the order in which the sections begin.
// A spare belongs to none.
func Sections(n int, of func(i int) (section string, belongs bool)) [][]int {
	var sections [][]int
	place := map[string]int{}
	for i := range n {
		section, belongs := of(i)
		if !belongs {
			continue
		}
		at, known := place[section]
		if !known {
			at = len(sections)
			place[section] = at
			sections = append(sections, nil)
		}
		sections[at] = append(sections[at], i)
	}
	return sections
}

// Holders gives for each sheet the code of the one whose student holds its readings, "" for the instructor. Before labs
// said so, partners followed from the order of the sheets.
func (l *Lab) Holders() []string {
	codes := make([]string, len(l.Sheets))
	for i, s := range l.Sheets {
		codes[i] = s.Holder
	}
	if l.Format >= FirstPaired {
		return codes
	}
	sections := Sections(len(l.Sheets), func(i int) (string, bool) {
		return l.Sheets[i].Section,
			l.Sheets[i].Student != ""
	})
	for i, holder := range Pair(sections, len(l.Sheets)) {
		if holder >= 0 {
			codes[i] = l.Sheets[holder].Code
		}
	}
	return codes
}
