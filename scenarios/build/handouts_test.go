package build

import (
	"cmp"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

func handedOut(t *testing.T, l *lab.Lab) handout.Handout {
	t.Helper()
	h, err := handout.Of(l)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// TestHandoutTellsNoFault gives every sheet each row of its case in turn and wants everything that a student gets to
// stay the same, but for the texts of readings: case, mileage, codes, lines and letters are decided without the row.
func TestHandoutTellsNoFault(t *testing.T) {
	check := func(name string, in Input) {
		t.Run(name, func(t *testing.T) {
			l, _ := build(t, in)
			sets, worlds, err := rowsOf(l)
			if err != nil {
				t.Fatal(err)
			}
			ways, err := waysTo(l, worlds)
			if err != nil {
				t.Fatal(err)
			}
			m := maker{lab: l, in: &in}
			tried := 0
			for i, own := range l.Sheets {
				who := person{id: own.Student, name: own.Name, section: own.Section, large: own.LargePrint}
				if own.Student == "" {
					continue
				}
				before := blank(handedOut(t, l), i)
				for row := range sets[own.Case].All() {
					tried++
					j := job{who: who, begin: own.Case, row: row, drawn: drawn{readings: make([]reading, len(l.Tests))}}
					other := *l
					other.Sheets = slices.Clone(l.Sheets)
					other.Sheets[i] = m.sheet(j, ways)
					other.Sheets[i].Code, other.Sheets[i].Holder = own.Code, own.Holder // neither knows of rows
					for k := range other.Sheets[i].Lines {
						other.Sheets[i].Lines[k].Beside = own.Lines[k].Beside
					}
					if after := blank(handedOut(t, &other), i); !reflect.DeepEqual(before, after) {
						a, _ := json.MarshalIndent(before, "", " ")
						b, _ := json.MarshalIndent(after, "", " ")
						t.Fatalf("sheet %s with row %d differs: %s", own.Code, row, firstDifference(string(a),
							string(b)))
					}
				}
			}
			if tried < 4*len(l.Sheets) {
				t.Errorf("%d rows tried on %d sheets", tried, len(l.Sheets))
			}
		})
	}
	check("two lamps", input(t, twoLamps(t), "nothing_found = true\n", 8))
	check("single coil", input(t, builtin(t, "single-coil"), "complaint = \"no-start\"\n", 4))
}

// blank takes the texts of the readings of a sheet away.
func blank(h handout.Handout, sheet int) handout.Handout {
	for k := range h.Readings[sheet].Lines {
		h.Readings[sheet].Lines[k].Reading = ""
	}
	return h
}

func firstDifference(a, b string) string {
	as, bs := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(as), len(bs)) {
		if as[i] != bs[i] {
			return as[i] + " and " + bs[i]
		}
	}
	return "in length"
}

// TestHandoutTypes walks the types of a handout: none may have a field that could hold what is hidden.
func TestHandoutTypes(t *testing.T) {
	var walk func(reflect.Type, string)
	walk = func(ty reflect.Type, path string) {
		switch ty.Kind() {
		case reflect.Slice, reflect.Pointer, reflect.Array:
			walk(ty.Elem(), path)
		case reflect.Struct:
			for i := range ty.NumField() {
				f := ty.Field(i)
				for _, word := range []string{"fault", "truth", "hypothes", "band", "sever", "difficult"} {
					if strings.Contains(strings.ToLower(f.Name), word) {
						t.Errorf("%s.%s could hold what is hidden", path, f.Name)
					}
				}
				walk(f.Type, path+"."+f.Name)
			}
		}
	}
	walk(reflect.TypeFor[handout.Handout](), "Handout")
}

func TestHandout(t *testing.T) {
	in := input(t, twoLamps(t), "spares = 1\nlarge_print = [\"s02\"]\n", 5)
	l, _ := build(t, in)
	h := handedOut(t, l)
	if len(h.Worksheets) != 6 || len(h.Readings) != 6 {
		t.Fatalf("%d worksheets, %d readings", len(h.Worksheets), len(h.Readings))
	}
	needs := map[string]bool{} // the code of who needs large print: on the own worksheet, and on the readings in the hand
	for _, w := range h.Worksheets {
		needs[w.Code] = w.Student == "s02"
	}
	for i, w := range h.Worksheets {
		if w.Code != h.Readings[i].Code || w.Large != needs[w.Code] || h.Readings[i].Large != needs[w.Holder] {
			t.Errorf("sheet %d: %s for %s, large print %v; readings %s, held by %q, large print %v", i, w.Code, w.Student,
				w.Large, h.Readings[i].Code, w.Holder, h.Readings[i].Large)
		}
		// Every line of the readings sheet stands once on the worksheet, and the other way round.
		var offered []int
		for _, row := range w.Grid {
			for _, c := range row {
				if c.Line != 0 {
					offered = append(offered, c.Line)
				}
			}
		}
		for _, table := range w.Tables {
			for _, row := range table.Rows {
				offered = append(offered, row.Line)
			}
		}
		slices.Sort(offered)
		var answered []int
		for _, line := range h.Readings[i].Lines {
			answered = append(answered, line.Number)
		}
		if !slices.Equal(offered, answered) {
			t.Errorf("worksheet offers %v, readings answer %v", offered, answered)
		}
	}
	if len(h.Reference.Points) != 8 || len(h.Reference.Columns) != 1 || len(h.Worksheets[0].Tables) != 1 {
		t.Errorf("%d points, %d columns, tables %+v", len(h.Reference.Points), len(h.Reference.Columns),
			h.Worksheets[0].Tables)
	}
	if w := h.Worksheets[0]; w.Grid[7][0].Line != 0 || w.Grid[0][0].Line == 0 {
		t.Errorf("grid %v: the battery's negative post is no row of the sweep", w.Grid)
	}
	want := []lab.SpecRow{
		{Where: "battery", Meter: "volts to battery -", When: "switch on", Good: "at least 12 V"},
		{Where: "feed", Meter: "volts to battery -", When: "switch on",
			Good: "less than 0.5 V below the battery reading"},
		{Where: "ground", Meter: "volts to battery -", When: "switch on", Good: "below 0.3 V"},
		{Where: "Fuse, pulled", Meter: "ohmmeter", When: "switch off", Good: "below 1 Ω"},
		{Where: "Left lamp, unplugged", Meter: "ohmmeter", When: "switch off", Good: "below 20 Ω"},
		{Where: "Right lamp, unplugged", Meter: "ohmmeter", When: "switch off", Good: "below 20 Ω"},
	}
	if !slices.Equal(h.Reference.Specs, want) {
		t.Errorf("specifications\n%q\nwant\n%q", h.Reference.Specs, want)
	}
	byLabel := func(a, b lab.Repair) int { return cmp.Compare(strings.ToLower(a.Label), strings.ToLower(b.Label)) }
	// eight and “nothing found”
	if !slices.IsSortedFunc(h.Reference.Repairs, byLabel) || len(h.Reference.Repairs) != 9 {
		t.Errorf("repairs %+v", h.Reference.Repairs)
	}
	if d := h.Reference.Diagram; len(d.Nodes) != 8 || len(d.Parts) != 9 || d.Nodes[7].Number != 8 ||
		!d.Nodes[7].Ground || d.Parts[0].PinNames[0] != "+" {
		t.Errorf("diagram %+v", d)
	}
	if len(h.Reference.Meters) != 2 || h.Reference.Meters[0].Meter != "voltmeter" {
		t.Errorf("meters %+v", h.Reference.Meters)
	}
	// The lab alone suffices: what is read back gives the same handout.
	again, err := lab.Decode("lab.json", encode(t, l))
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(h, handedOut(t, again)) {
		t.Error("another handout from the lab read back")
	}
}

// TestLinesTellNothing wants numbers, letters and codes to depend on lab and student alone.
func TestLinesTellNothing(t *testing.T) {
	a, _ := build(t, input(t, twoLamps(t), "faults = [\"fuse-blown\"]\n", 6))
	b, _ := build(t, input(t, twoLamps(t), "faults = [\"left-out\"]\n", 4))
	for i := range b.Sheets {
		if a.Sheets[i].Code != b.Sheets[i].Code {
			t.Errorf("code %s or %s", a.Sheets[i].Code, b.Sheets[i].Code)
		}
		for k := range b.Sheets[i].Lines {
			x, y := a.Sheets[i].Lines[k], b.Sheets[i].Lines[k]
			if x.Number != y.Number || x.Letters != y.Letters {
				t.Errorf("line %d %s or %d %s", x.Number, x.Letters, y.Number, y.Letters)
			}
		}
	}
	if a.Sheets[0].Lines[0].Number == a.Sheets[1].Lines[0].Number &&
		a.Sheets[1].Lines[0].Number == a.Sheets[2].Lines[0].Number {
		t.Error("three sheets have one line number for a test")
	}
	for _, s := range a.Sheets {
		if len(s.Code) != 6 || s.Code[2] != '-' || strings.Contains(s.Code, s.Student) {
			t.Errorf("code %q", s.Code)
		}
	}
}
