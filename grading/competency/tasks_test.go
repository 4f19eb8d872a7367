package competency

import (
	"fmt"
	"strings"
	"testing"

	"nospark/grading/competency/lists"
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

// withTasks gathers five students with a list of tasks and what is mapped to them.
func withTasks(t *testing.T, lines string) *Term {
	t.Helper()
	tasks, err := lists.ParseTasks("tasks.csv", []byte(listText))
	if err != nil {
		t.Fatal(err)
	}
	mapped, err := lists.ParseTaskMap("taskmap.csv", []byte("task,competency,pack,repair\n"+lines))
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
		if got := autumn.Gaps[at[name]]; got != gap {
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
	tasks, err := lists.ParseTasks("tasks.csv", []byte("id,parentId,code,statement\n1,,A.1,Drops\n2,,A.2,Grounds\n"+
		"3,,a.2,More\n"))
	if err != nil {
		t.Fatal(err)
	}
	autumn := newTerm()
	autumn.Tasks = []term.Task{{Competency: "proof", Code: "A.1", Taught: true}, {Competency: "proof", Code: "A.2",
		Taught: true}}
	told := gather(t, Options{Term: autumn, Tasks: tasks}, rec("week01", "2026-09-01", "A", "1 Ann: proof+"))
	if told.Gaps[0] != "" || !strings.Contains(problems(told), `2 tasks have the code "A.2"`) {
		t.Errorf("blocks of term.toml: %q, %s", told.Gaps[0], problems(told))
	}
}
