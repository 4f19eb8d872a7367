package rollup

import (
	"strings"
	"testing"

	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/printouts/workbook"
	"nospark/printouts/workbook/workbooktest"
)

// TestTasks: every line of the program's list is on its sheet with what the records tell, gaps among them, and the
// table has a row a student and a column a task, with codes as with names. With a list there is no sheet Map.
func TestTasks(t *testing.T) {
	tasks, err := lists.ParseTasks("tasks.csv", []byte("id,parentId,code,statement,type\n"+
		"1,,A,An area,area\n2,1,A.1,=Prove a part bad,task\n3,1,A.2,Weld a bracket,task\n"))
	if err != nil {
		t.Fatal(err)
	}
	autumn := sampleTerm(t, 6, 1, 6)
	o := autumn.Options
	o.Tasks, o.TaskLines = tasks, []lists.TaskLine{{Place: "taskmap.csv:2", Task: "A.1", Competency: "proof"}}
	var files []competency.File
	for _, r := range autumn.Records {
		data, err := r.Encode(*o.Key)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, competency.File{Name: r.FileName(), Data: data})
	}
	autumn = competency.Gather(files, o)
	for _, names := range []bool{true, false} {
		f := workbooktest.Open(t, competencyBook(t, autumn, names))
		for _, name := range f.GetSheetList() {
			if name == mapSheet {
				t.Error("there is a sheet Map beside the list")
			}
		}
		rows := workbooktest.Cells(t, f, tasksSheet, false)
		if got := strings.Join(rows[6][:4], "|"); got != "A.2|    Weld a bracket|task|gap: nothing is mapped to it" {
			t.Errorf("the gap: %s", got)
		}
		if got := rows[5][1]; got != "    =Prove a part bad" {
			t.Errorf("the statement: %q", got)
		}
		table := workbooktest.Cells(t, f, taskTableSheet, false)
		head := table[3]
		if got := strings.Join(head[len(head)-3:], "|"); got != "A|A.1|A.2" || len(table) != 4+6 {
			t.Errorf("%d rows, headed %s", len(table), got)
		}
		// the column of a task to which one whole competency is mapped says what the matrix says
		for r := range 6 {
			want := ""
			matrix := workbooktest.Cells(t, f, matrixSheet, false)
			for c, title := range matrix[matrixHead-1] {
				if title == "Proof before replacement" {
					want = matrix[matrixHead+r][c]
				}
			}
			if got := workbooktest.Value(t, f, taskTableSheet, workbook.Ref(5+r, len(head)-1)); got != want ||
				want == "" {
				t.Errorf("row %d: %q, the matrix has %q", r, got, want)
			}
			if got := workbooktest.Value(t, f, taskTableSheet, workbook.Ref(5+r, len(head))); got != "gap" {
				t.Errorf("row %d, the gap: %q", r, got)
			}
		}
	}
}
