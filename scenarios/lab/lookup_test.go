package lab

import "testing"

func TestSheetCodes(t *testing.T) {
	lab := &Lab{Sheets: []Sheet{{Code: "K7-PTX"}, {Code: "J3-PNQ"}}}
	check := func(code string, want int, found bool) {
		t.Helper()
		got, ok := lab.SheetCodes().Find(code)
		if got != want || ok != found {
			t.Errorf("%q is sheet %d, %v; want %d, %v", code, got, ok, want, found)
		}
	}
	for _, code := range []string{"J3-PNQ", "j3pnq", "J3 PNQ", " j3 - pnq ", "J3\u2013PNQ", "\uff2a\uff13-PNQ",
		"J3-\u200bPNQ", "j3_pnq."} {
		check(code, 1, true)
	}
	check("K7PTX", 0, true)
	for _, code := range []string{"J3-PN", "J3-PNQQ", "3-PNQ", "", "-"} {
		check(code, 0, false)
	}
}
