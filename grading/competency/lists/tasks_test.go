package lists

import (
	"fmt"
	"strings"
	"testing"

	"nospark/grading/evidence"
)

// listText is an invented list: two areas, tasks below them, one area within another, in no order and with semicolons.
const listText = "id;parentId;code;statement;type\n" +
	"t3;a2;B.1.1;Check the inputs of spark timing;task\n" +
	"a1;;A;Electrical;area\n" +
	"t1;a1;A.1;Check voltage drop under load;task\n" +
	"t2;a1;A.2;Check grounds under load;task\n" +
	"a2;b;B.1;Timing;area\n" +
	"b;;B;Ignition;area\n" +
	"t4;b;;Replace a lamp;task\n"

// TestParseTasks reads a list as a tree, and refuses what is none with its lines.
func TestParseTasks(t *testing.T) {
	list, err := ParseTasks("tasks.csv", []byte(listText))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, x := range list {
		got = append(got, fmt.Sprintf("%d %s %d", x.Depth, x.Name(), x.Parent))
	}
	want := "0 A -1, 1 A.1 0, 1 A.2 0, 0 B -1, 1 B.1 3, 2 B.1.1 4, 1 t4 3" // by hand
	if strings.Join(got, ", ") != want {
		t.Errorf("got %s\nwant %s", strings.Join(got, ", "), want)
	}
	check := func(text, want string) {
		t.Helper()
		list, err := ParseTasks("tasks.csv", []byte(text))
		if err == nil || err.Error() != want || list != nil {
			t.Errorf("%q: %d tasks, got\n%v\nwant\n%s", text, len(list), err, want)
		}
	}
	const head = "id,parentId,code,statement,type\n"
	check("", `tasks.csv: is empty; its first line is id,parentId,code,statement,type`)
	check(head, `tasks.csv: has no task below its headings`)
	check("id,code\n1,A\n", `tasks.csv:1: heading "id,code"; want id,parentId,code,statement,type`)
	check(head+"1,,A,Area,x\n1,,B,Other,x\n",
		`tasks.csv:3: id "1" is already in line 2; each task has an id of its own`)
	check(head+"one,,A,Area,x\n2,ome,A.1,Task,x\n3,9,A.2,Task,x\n",
		"tasks.csv:3: parentId \"ome\": no task has this id; did you mean \"one\"?\n"+
			"tasks.csv:4: parentId \"9\": no task has this id")
	check(head+"1,3,A,One,x\n2,1,B,Two,x\n3,2,C,Three,x\n4,4,D,Four,x\n5,1,E,Five,x\n",
		"tasks.csv:2: task \"1\" is below itself: 1, 3, 2, 1; correct a parentId of these\n"+
			"tasks.csv:5: task \"4\" is below itself: 4, 4; correct a parentId of these")
	check(head+"1,,A,,x\n", `tasks.csv:2: "1,,A,,x"; want id,statement, none of them empty or long`)
	check(head+"1,,A,Drop, ground,x\n",
		`tasks.csv:2: 6 cells, but only 5 headings; a cell with the separator ',' in it needs quotes around it`)
	check(head+strings.Repeat("1,,A,Task,x\n", 2001),
		`tasks.csv: has 2001 tasks, at most 2000 can be shown; keep those of this program`)
	if list, err := ParseTasks("tasks.csv", []byte("statement,id,parentId\nTask,7,\n")); err != nil ||
		len(list) != 1 || list[0].Name() != "7" {
		t.Errorf("other columns in another order: %v, %v", list, err)
	}
}

// FuzzParseTasks: what is read is a tree whose tasks stand behind their parents, and no text brings the reader down.
func FuzzParseTasks(f *testing.F) {
	f.Add([]byte(listText))
	f.Add([]byte("id,parentId,code,statement,type\n1,2,,a,\n2,1,,b,\n"))
	f.Add([]byte("id\tparentId\tstatement\n\"1\t\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := ParseTasks("tasks.csv", data)
		if err == nil && len(list) == 0 {
			t.Error("no task and no error")
		}
		seen := map[string]bool{}
		for i, x := range list {
			depth := 0
			if x.Parent >= 0 {
				depth = list[x.Parent].Depth + 1
			}
			if x.Parent >= i || x.Depth != depth || x.ID == "" || seen[x.ID] || len(x.ID) > evidence.LongestText {
				t.Errorf("task %d: %+v", i, x)
			}
			seen[x.ID] = true
		}
		_, _ = ParseTaskMap("taskmap.csv", data)
	})
}
