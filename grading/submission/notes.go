package submission

import "fmt"

// notes collects the remarks on one file. Nobody reads thousands, and what made them is one thing, so the rest is only
// counted; whoever makes a remark asks full first where wording it takes time.
type notes struct {
	list []Remark
	more int
}

func (n *notes) full() bool { return len(n.list) == maxRemarks-1 }

func (n *notes) add(place, what, do string) {
	if n.full() {
		n.more++
		return
	}
	n.list = append(n.list, Remark{place, what, do})
}

// count is the number of remarks so far, told or not.
func (n *notes) count() int { return len(n.list) + n.more }

// remarks are all that is told of the file.
func (n *notes) remarks(file string) []Remark {
	if n.more == 0 {
		return n.list
	}
	return append(n.list, Remark{file, fmt.Sprintf("%d more things to look at", n.more),
		"mend those above and grade again"})
}
