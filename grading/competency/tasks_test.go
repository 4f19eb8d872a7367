package competency

import (
	"fmt"
	"strings"
	"testing"

	"nospark/grading/evidence"
	"nospark/scenarios/term"
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

// withTasks gathers five students with a list of tasks and what is mapped to them.
func withTasks(t *testing.T, lines string) *Term {
	t.Helper()
	tasks, err := ParseTasks("tasks.csv", []byte(listText))
	if err != nil {
		t.Fatal(err)
	}
	mapped, err := ParseTaskMap("taskmap.csv", []byte("task,competency,pack,repair\n"+lines))
	if err != nil {
		t.Fatal(err)
	}
	autumn := newTerm()
	autumn.Mastery = term.Mastery{Met: 2, Of: 2, Faults: 1, Packs: 1, Labs: 1}
	first := rec("week01", "2026-09-01", "A", "1 Ann: voltage-drop+ ground-integrity+", "2 Bo: voltage-drop+ "+
		"ground-integrity-", "3 Cy: voltage-drop+")
	second := rec("week02", "2026-09-08", "A", "1 Ann: voltage-drop+ ground-integrity+", "2 Bo: voltage-drop+ "+
		"ground-integrity-", "3 Cy: voltage-drop+")
	second.Pack = "horn"
	for i := range second.Students {
		second.Students[i].Repair = "replace-horn"
	}
	return gather(t, Options{Term: autumn, Tasks: tasks, TaskLines: mapped}, first, second)
}

// TestVerdicts counts by hand: Ann is competent in both, Bo not yet in grounds, Cy had no opportunity there; nobody had
// one in timing, and nothing is mapped to t4.
func TestVerdicts(t *testing.T) {
	autumn := withTasks(t, "A.1,voltage-drop,,\nt2,Ground tests (integrity),,\nB.1.1,timing-inputs,,\n")
	if text := problems(autumn); text != "" {
		t.Fatal(text)
	}
	at := map[string]int{}
	for k, x := range autumn.Tasks {
		at[x.Name()] = k
	}
	check := func(student, task string, want Status, below string) {
		t.Helper()
		for i := range autumn.Students {
			if s := &autumn.Students[i]; s.ID == student {
				v := autumn.Verdict(s, at[task])
				if got := fmt.Sprintf("%d/%d", v.Shown, v.Of); v.Status != want || got != below {
					t.Errorf("%s in %s: %v, %s below, want %v, %s", student, task, v.Status, got, want, below)
				}
			}
		}
	}
	check("1", "A.1", Competent, "0/0")
	check("1", "A.2", Competent, "0/0")
	check("1", "A", Competent, "2/2")
	check("2", "A.2", NotYet, "0/0") // two missed of two
	check("2", "A", NotYet, "1/2")
	check("3", "A.2", TooLittle, "0/0")
	check("3", "A", TooLittle, "1/2")
	check("1", "B", TooLittle, "0/2") // gaps below
	for name, gap := range map[string]string{"A": "", "A.1": "", "A.2": "", "B.1.1": "nobody had an opportunity yet",
		"t4": "nothing is mapped to it", "B": "none of those below has evidence"} {
		if got := autumn.Tasks[at[name]].Gap; got != gap {
			t.Errorf("gap of %s: %q, want %q", name, got, gap)
		}
	}
}

// TestTaskLines: a line with a pack or a repair looks at those sheets alone, blocks of term.toml count too, and a line
// that means nothing is told.
func TestTaskLines(t *testing.T) {
	status := func(autumn *Term, name string) string {
		for k := range autumn.Tasks {
			if autumn.Tasks[k].Name() == name {
				v := autumn.Verdict(&autumn.Students[0], k)
				return fmt.Sprintf("%v %d", v.Status, len(v.Standing.Opportunities))
			}
		}
		return "no task"
	}
	for _, c := range [][2]string{{"A.1,voltage-drop,,\n", "competent 2"}, {"A.1,voltage-drop,horn,\n", "too few 1"},
		{"A.1,voltage-drop,,replace-lamp\n", "too few 1"}, {"A.1,voltage-drop,horn,replace-lamp\n", "too few 0"},
		{"A.1,voltage-drop,,\nA.1,voltage-drop,horn,\n", "too few 1"}} {
		if got := status(withTasks(t, c[0]), "A.1"); got != c[1] {
			t.Errorf("%q: %s, want %s", c[0], got, c[1])
		}
	}
	got := problems(withTasks(t, "A.9,voltage-drop,,\nA.1,voltage-drip,,\n"))
	for _, want := range []string{`there is no task "A.9"`, `there is no competency "voltage-drip"`} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in %s", want, got)
		}
	}
	tasks, err := ParseTasks("tasks.csv", []byte("id,parentId,code,statement\n1,,A.1,Drops\n2,,A.2,Grounds\n"+
		"3,,a.2,More\n"))
	if err != nil {
		t.Fatal(err)
	}
	autumn := newTerm()
	autumn.Tasks = []term.Task{{Competency: "proof", Code: "A.1", Taught: true}, {Competency: "proof", Code: "A.2",
		Taught: true}}
	told := gather(t, Options{Term: autumn, Tasks: tasks}, rec("week01", "2026-09-01", "A", "1 Ann: proof+"))
	if told.Tasks[0].Gap != "" || !strings.Contains(problems(told), `2 tasks have the code "A.2"`) {
		t.Errorf("blocks of term.toml: %q, %s", told.Tasks[0].Gap, problems(told))
	}
	if len(tasks[0].lines) != 0 {
		t.Error("the caller's list was changed")
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
