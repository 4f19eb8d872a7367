package pack_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"nospark/scenarios/pack"
	"nospark/scenarios/strict"
	"nospark/scenarios/testrun"
)

// Texts made to be slow or deep end in errors, few enough to read.
func TestHostile(t *testing.T) {
	testrun.Slow(t, "reads files of many megabytes")
	check := func(name, text string) {
		t.Helper()
		_, _, err := pack.Check("h", []byte(text))
		var found *strict.Problems
		if !errors.As(err, &found) {
			t.Errorf("%s: error %v", name, err)
			return
		}
		if len(found.List) > 101 {
			t.Errorf("%s: %d errors", name, len(found.List))
		}
		if n := len(err.Error()); n > 50_000 {
			t.Errorf("%s: a message of %d bytes", name, n)
		}
	}
	full := func(piece string) string { return strings.Repeat(piece, (pack.MaxBytes-100)/len(piece)) }
	good := string(every(t))
	check("empty", "")
	check("too long", full("#")+strings.Repeat("#", 200))
	check("deep lists", "x = "+full("["))
	check("closed deep lists", "x = "+full("[")[:pack.MaxBytes/2-100]+full("]")[:pack.MaxBytes/2-100])
	check("deep tables", "x = "+full("{a="))
	check("deep keys", full("a.")+"a = 1")
	check("many tables", full("[[point]]\n"))
	check("many sweeps", good+full("[[sweep]]\n")[:pack.MaxBytes-len(good)-100])
	check("many keys", strings.Join(numbered("k%d = 1\n", 40_000), ""))
	check("long name", "reference = \""+full("a")[:pack.MaxBytes/2]+"\"\n"+
		strings.Repeat("[[point]]\nid = \"abc\"\n", 199))
	check("many unknown names",
		strings.Replace(good, `unplug = ["icm"]`, `unplug = [`+strings.Join(numbered("\"u%d\",", 30_000), "")+`]`, 1))
	check("many settings", strings.Replace(good, `set = [{ part = "chafe", resistance_ohms = "short" }]`,
		`set = [`+strings.Join(numbered(`{part="q%d"},`, 20_000), "")+`]`, 1))
	check("many bands", strings.Replace(good, `bands = [{ name = "shorted"`,
		`bands = [`+strings.Join(numbered(`{name="b%d",below=1},`, 10_000), "")+`{ name = "shorted"`, 1))
	check("many corners", strings.Replace(good, `via = [`, `via = [`+strings.Repeat("[0,0],", 40_000), 1))
}

func numbered(format string, n int) []string {
	list := make([]string, n)
	for i := range list {
		list[i] = fmt.Sprintf(format, i)
	}
	return list
}
