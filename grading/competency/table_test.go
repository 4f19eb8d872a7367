package competency

import (
	"encoding/csv"
	"strings"
	"testing"
)

// The evidence as a table has a line for each opportunity, in the columns that are documented; without names neither
// id, name nor code of a sheet stands in it, and the order is that of the codes.
func TestEvidenceTable(t *testing.T) {
	autumn := gather(t, Options{}, rec("week01", "2026-09-01", "A", "0042 Ann: proof+ economy-", "0007 Zed: proof-"),
		rec("week02", "2026-09-08", "A", "0042 Ann: proof-", "0007 Zed: blank"))
	data := autumn.EvidenceTable(true)
	want := "date,lab,term,section,student,name,pack,vehicle,competency,met\r\n" +
		"2026-09-01,week01,test-term-1,A,0042,Ann,lamp,0,economy,0\r\n" +
		"2026-09-01,week01,test-term-1,A,0042,Ann,lamp,0,proof,1\r\n" +
		"2026-09-08,week02,test-term-1,A,0042,Ann,lamp,0,proof,0\r\n" +
		"2026-09-01,week01,test-term-1,A,0007,Zed,lamp,0,proof,0\r\n"
	if string(data) != want {
		t.Errorf("got\n%swant\n%s", data, want)
	}
	coded := autumn.EvidenceTable(false)
	for _, secret := range []string{"0042", "0007", "Ann", "Zed", "K2-BCD"} {
		if strings.Contains(string(coded), secret) {
			t.Errorf("%q stands in\n%s", secret, coded)
		}
	}
	lines, err := csv.NewReader(strings.NewReader(string(coded))).ReadAll()
	if err != nil || len(lines) != 5 {
		t.Fatalf("%d lines, %v", len(lines), err)
	}
	for i := 2; i < len(lines); i++ {
		if lines[i][4] < lines[i-1][4] {
			t.Errorf("%s stands behind %s", lines[i][4], lines[i-1][4])
		}
	}
}
