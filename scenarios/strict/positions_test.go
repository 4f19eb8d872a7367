package strict

import (
	"fmt"
	"sort"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

// seeds are texts with every way TOML has to spread a table over lines. They serve the tables and the fuzz target.
var seeds = []string{
	"a = 1\n\n[[part]]\nid = \"x\"\n[[part]]\nid = 'y'\n",
	"a = 1\r\n\r\n# note [x]\r\n[t]\r\nb = [\r\n  1,\r\n  2, # three\r\n]\r\nc = 3\r\n",
	"s = \"\"\"\n[[part]]\nid = \"no\"\n\\\"\"\"\"\nt = 1\n",
	"s = '''a\n''''\nt = 1\n",
	"set = [{ a = 1, b = [2, 3] },\n\t{ a = \"x # y\" }]\nz = 1\n",
	"a.b.c = 1\na.d = 2\n[e.\"f.g\".'h']\ni = 1\n[e]\nj = 2\n",
	"[[a]]\n[a.b]\nc = 1\n[[a.d]]\ne = 1\n[[a.d]]\n[[a]]\n[[a.d]]\nf = 1\n",
	"d = 1979-05-27 07:32:00\ne = inf\nf = -nan # c\ng = {}\nh = []\n",
	"t = { a = 1,\n  # note\n  b = { c.d = 2 },\n}\nu = [[1, 2],\n [3]]\n",
	"\ufeffa = 1\n\"k\\u00e9y\" = 2\n\"\" = 3\n",
	"\t[ a . b ]\t# c\n\tc\t=\t1\n",
}

func TestLocate(t *testing.T) {
	check := func(text string, want ...string) {
		t.Helper()
		var got []string
		list(locate(text), "", &got)
		if g, w := strings.Join(got, " "), strings.Join(want, " "); g != w {
			t.Errorf("%q\n got %s\nwant %s", text, g, w)
		}
	}
	check(seeds[0], "a:1", "part:3", "part.0:3", "part.0.id:4", "part.1:5", "part.1.id:6")
	check(seeds[1], "a:1", "t:4", "t.b:5", "t.b.0:6", "t.b.1:7", "t.c:9")
	check(seeds[2], "s:1", "t:5")
	check(seeds[3], "s:1", "t:3")
	check(seeds[4], "set:1", "set.0:1", "set.0.a:1", "set.0.b:1", "set.0.b.0:1", "set.0.b.1:1", "set.1:2", "set.1.a:2",
		"z:3")
	check(seeds[5], "a:1", "a.b:1", "a.b.c:1", "a.d:2", "e:3", "e.f.g:3", "e.f.g.h:3", "e.f.g.h.i:4", "e.j:6")
	check(seeds[6], "a:1", "a.0:1", "a.0.b:2", "a.0.b.c:3", "a.0.d:4", "a.0.d.0:4", "a.0.d.0.e:5", "a.0.d.1:6",
		"a.1:7", "a.1.d:8", "a.1.d.0:8", "a.1.d.0.f:9")
	check(seeds[7], "d:1", "e:2", "f:3", "g:4", "h:5")
	check(seeds[8], "t:1", "t.a:1", "t.b:3", "t.b.c:3", "t.b.c.d:3", "u:5", "u.0:5", "u.0.0:5", "u.0.1:5", "u.1:6",
		"u.1.0:6")
	check(seeds[9], "a:1", "kéy:2", ":3")
	check(seeds[10], "a:1", "a.b:1", "a.b.c:2")
}

// list writes path:line of everything below a place, in the order of the file.
func list(p *Position, path string, out *[]string) {
	down := func(name string, below *Position) {
		full := strings.TrimPrefix(path+"."+name, ".")
		*out = append(*out, fmt.Sprintf("%s:%d", full, below.Line))
		list(below, full, out)
	}
	for i, item := range p.Items {
		down(fmt.Sprint(i), item)
	}
	for _, name := range p.Order {
		down(name, p.Keys[name])
	}
}

func TestMissingFallsBack(t *testing.T) {
	p := locate("\n\nx = [1]\n").Key("x")
	if got := p.Item(7).Key("no").Item(-1).Line; got != 3 {
		t.Errorf("line of something that is not there: got %d, want its parent's 3", got)
	}
}

func TestDepthOf(t *testing.T) {
	check := func(text string, depth, line int) {
		t.Helper()
		if d, l := depthOf(text); d != depth || l != line {
			t.Errorf("%.40q: depth %d in line %d, want %d in line %d", text, d, l, depth, line)
		}
	}
	check("", 0, 0)
	check("a = 1", 1, 1)
	check("a = 1\nb = [[1]]\nc = 2", 3, 2)
	check("a = [\n{ b = 1 }]", 3, 2)
	check("[[a]]\n[a.b.c]\nd.e = 1", 3, 2)
	check("a = "+strings.Repeat("[", 100_000), 501, 1) // it goes no deeper than that
	check(strings.Repeat("a.", 100_000)+"a = 1", 501, 1)
	check("a = '''[[[[\n{{{{'''\n# [[[[\nb = \"[[[[\"", 1, 1)
}

// FuzzLocate holds the tree against the decoder: the same tables, keys and numbers of items, lines in the file and not
// before their parent's.
func FuzzLocate(f *testing.F) {
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var values map[string]any
		decoded := decodes(text, &values)
		root := locate(text)
		if !decoded {
			return
		}
		if diff := compare(values, root, "top"); diff != "" {
			t.Errorf("%q: %s", text, diff)
		}
		if last := 1 + strings.Count(text, "\n"); deepestLine(root) > last {
			t.Errorf("%q: a line after the last, %d", text, last)
		}
	})
}

// decodes reports whether the decoder takes the text; it panics on some texts that are no TOML.
func decodes(text string, into *map[string]any) (ok bool) {
	defer func() {
		if recover() != nil {
			ok = false
		}
	}()
	if strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff") {
		return false // marks of UTF-16, which the decoder drops and packs refuse
	}
	_, err := toml.Decode(text, into)
	return err == nil
}

func compare(value any, p *Position, path string) string {
	switch v := value.(type) {
	case map[string]any:
		return compareTable(v, p, path)
	case []map[string]any:
		items := make([]any, len(v))
		for i := range v {
			items[i] = v[i]
		}
		return compare(items, p, path)
	case []any:
		if len(v) != len(p.Items) {
			return fmt.Sprintf("%s: decoder has %d items, index %d", path, len(v), len(p.Items))
		}
		for i := range v {
			if diff := compare(v[i], p.Items[i], fmt.Sprintf("%s.%d", path, i)); diff != "" {
				return diff
			}
		}
	default:
		if len(p.Items)+len(p.Keys) > 0 {
			return path + ": a single value has places below it"
		}
	}
	return ""
}

func compareTable(v map[string]any, p *Position, path string) string {
	if len(v) != len(p.Keys) || len(v) != len(p.Order) {
		return fmt.Sprintf("%s: decoder has %d keys, index %q", path, len(v), p.Order)
	}
	names := make([]string, 0, len(v))
	for name := range v {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		below, ok := p.Keys[name]
		if !ok {
			return fmt.Sprintf("%s: index lacks %q", path, name)
		}
		if diff := compare(v[name], below, path+"."+name); diff != "" {
			return diff
		}
	}
	return ""
}

func deepestLine(p *Position) int {
	last := p.Line
	for _, item := range p.Items {
		last = max(last, deepestLine(item))
	}
	for _, name := range p.Order {
		last = max(last, deepestLine(p.Keys[name]))
	}
	return last
}
