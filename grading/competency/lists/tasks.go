package lists

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/disk"
	"nospark/scenarios/spelling"
)

// The program's own list of tasks and what counts for them, in the folder of a term.
const (
	TasksFile   = "tasks.csv"
	TaskMapFile = "taskmap.csv"
)

// mostTasks bounds a list: each is a column of the table of students.
const mostTasks = 2000

// Task is a line of the program's own list: an area, a task, or whatever else its type says.
type Task struct {
	Place     string // "tasks.csv:3"
	ID        string
	Code      string // as the program writes it, "" where it has none
	Statement string
	Type      string
	Parent    int   // place in the list, -1: none
	Depth     int   // 0 without a parent
	Below     []int // those whose parent it is
}

// Name is what a task is called where there is little room.
func (t *Task) Name() string {
	if t.Code != "" {
		return t.Code
	}
	return t.ID
}

// ReadTasks reads the columns id,parentId,code,statement,type of the file at path. Tasks come as a tree is read: each
// before those below it, in the order of the file. The error joins all that is wrong, by line.
func ReadTasks(path string) ([]Task, error) {
	data, err := disk.Read(path, sizeLimit)
	if err != nil {
		return nil, err
	}
	return ParseTasks(path, data)
}

// ParseTasks is ReadTasks for a file in memory.
func ParseTasks(path string, data []byte) ([]Task, error) {
	rows, err := readNamed(path, data, []namedColumn{{heading: "id"}, {heading: "parentId", empty: true},
		{heading: "code", lone: true, empty: true}, {heading: "statement"},
		{heading: "type", lone: true, empty: true}})
	switch {
	case err != nil:
		return nil, err
	case len(rows) == 0:
		return nil, fmt.Errorf("%s: has no task below its headings", path)
	case len(rows) > mostTasks:
		return nil, fmt.Errorf("%s: has %d tasks, at most %d can be shown; keep those of this program", path, len(rows),
			mostTasks)
	}
	at := map[string]int{}
	var ids []string
	var found []error
	for i, r := range rows {
		if first, twice := at[r.cells[0]]; twice {
			found = append(found, fmt.Errorf("%s: id %q is already in line %d; each task has an id of its own", r.place,
				r.cells[0], rows[first].line))
			continue
		}
		at[r.cells[0]] = i
		ids = append(ids, r.cells[0])
	}
	parents := make([]int, len(rows))
	for i, r := range rows {
		parent, known := at[r.cells[1]]
		switch {
		case r.cells[1] == "":
			parent = -1
		case !known:
			parent = -1
			found = append(found, fmt.Errorf("%s: parentId %q: no task has this id%s", r.place, r.cells[1],
				spelling.Ask(r.cells[1], ids)))
		}
		parents[i] = parent
	}
	if len(found) == 0 {
		found = circles(rows, parents)
	}
	if len(found) > 0 {
		return nil, errors.Join(found...)
	}
	return asTree(rows, parents), nil
}

// circles tells of tasks that are below themselves, each circle once, at its first line.
func circles(rows []namedRow, parents []int) (found []error) {
	told := map[int]bool{}
	for i := range rows {
		way := []int{i}
		for k := parents[i]; k >= 0 && !slices.Contains(way, k) && !told[k]; k = parents[k] {
			way = append(way, k)
		}
		if parents[way[len(way)-1]] != i { // no circle through this one
			continue
		}
		var names []string
		for _, k := range append(way, i) {
			told[k] = true
			names = append(names, rows[k].cells[0])
		}
		found = append(found, fmt.Errorf("%s: task %q is below itself: %s; correct a parentId of these", rows[i].place,
			rows[i].cells[0], strings.Join(names, ", ")))
	}
	return found
}

// asTree puts tasks behind their parents.
func asTree(rows []namedRow, parents []int) []Task {
	below := map[int][]int{}
	for i, p := range parents {
		below[p] = append(below[p], i)
	}
	var list []Task
	var add func(rowsOf []int, parent, depth int)
	add = func(rowsOf []int, parent, depth int) {
		for _, i := range rowsOf {
			c, k := rows[i].cells, len(list)
			list = append(list, Task{Place: rows[i].place, ID: c[0], Code: c[2], Statement: c[3], Type: c[4],
				Parent: parent, Depth: depth})
			if parent >= 0 {
				list[parent].Below = append(list[parent].Below, k)
			}
			add(below[i], k, depth+1)
		}
	}
	add(below[-1], -1, 0)
	return list
}

// TaskLine says which evidence counts for a task: that of a competency, on any pack or one, with any right repair or
// one.
type TaskLine struct {
	Place        string // "taskmap.csv:3"
	Task         string // id or code
	Competency   string // id
	Pack, Repair string // ids; "": any
}

// ReadTaskMap reads the columns task,competency,pack,repair of the file at path.
func ReadTaskMap(path string) ([]TaskLine, error) {
	data, err := disk.Read(path, sizeLimit)
	if err != nil {
		return nil, err
	}
	return ParseTaskMap(path, data)
}

// ParseTaskMap is ReadTaskMap for a file in memory.
func ParseTaskMap(path string, data []byte) ([]TaskLine, error) {
	rows, err := readNamed(path, data, []namedColumn{{heading: "task"}, {heading: "competency"},
		{heading: "pack", lone: true, empty: true}, {heading: "repair", lone: true, empty: true}})
	var list []TaskLine
	for _, r := range rows {
		list = append(list, TaskLine{r.place, r.cells[0], r.cells[1], r.cells[2], r.cells[3]})
	}
	return list, err
}
