package main

import (
	"encoding"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"nospark/grading"
	"nospark/grading/bestplay"
	"nospark/scenarios/build"
	"nospark/scenarios/strict"
)

// printed are the values that commands print as JSON.
func printed() []struct {
	command string
	value   any
} {
	return []struct {
		command string
		value   any
	}{
		{"build --json", build.Report{}},
		{"grade --json", grading.Result{}},
		{"pack chart --json", []bestplay.Tree{}},
		{"pack check --json", []strict.Finding{}},
	}
}

// fields lists the names of all fields with the kind of their values: students[].parts.evidence number.
func fields(t reflect.Type, path string) []string {
	if t.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return []string{path + " text"}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return fields(t.Elem(), path)
	case reflect.Slice, reflect.Array:
		return fields(t.Elem(), path+"[]")
	case reflect.Struct:
		var all []string
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if name == "" {
				name = f.Name + " WITHOUT A TAG"
			}
			all = append(all, fields(f.Type, strings.TrimPrefix(path+"."+name, "."))...)
		}
		return all
	case reflect.Bool:
		return []string{path + " true or false"}
	case reflect.String:
		return []string{path + " text"}
	case reflect.Float64:
		return []string{path + " number"}
	}
	return []string{path + " whole number"}
}

// TestFieldsOfJSON compares the names that other programs rely on with those of an earlier version. A name that is
// there may not go or change its kind; before -update make sure that the difference only adds.
func TestFieldsOfJSON(t *testing.T) {
	const path = "testdata/json-fields.txt"
	var text strings.Builder
	for _, p := range printed() {
		fmt.Fprintf(&text, "%s\n", p.command)
		for _, f := range fields(reflect.TypeOf(p.value), "") {
			fmt.Fprintf(&text, "\t%s\n", f)
		}
	}
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if text.String() != string(want) {
		t.Errorf("other fields than in %s (run with -update to accept):\n%s", path, text.String())
	}
	if strings.Contains(text.String(), "WITHOUT A TAG") {
		t.Error("a field has no name of its own")
	}
}

// TestFieldsAreExplained: JSON.md explains every field that build and grade print.
func TestFieldsAreExplained(t *testing.T) {
	guide, err := os.ReadFile("JSON.md")
	if err != nil {
		t.Fatal(err)
	}
	section := string(guide)
	for _, p := range printed()[:2] {
		for _, f := range fields(reflect.TypeOf(p.value), "") {
			path, _, _ := strings.Cut(f, " ")
			name := strings.TrimSuffix(path[strings.LastIndexByte(path, '.')+1:], "[]")
			if !regexp.MustCompile("`[^`]*\\b" + name + "\\b[^`]*`").MatchString(section) {
				t.Errorf("%s: %s is not explained", p.command, path)
			}
		}
	}
}

// TestJSONHasNoNull: what is empty is an empty list, only a mark that there is none of is null, and what is printed
// reads back strictly.
func TestJSONHasNoNull(t *testing.T) {
	lab := termFor(t, "title = \"Lamp\"\ndate = 2026-09-07\npack = \"lamp\"\n")
	plan := filepath.Join(lab, "..", "..", "plans", "week01.toml")
	strict := func(text string, into any) {
		t.Helper()
		d := json.NewDecoder(strings.NewReader(text))
		d.DisallowUnknownFields()
		if err := d.Decode(into); err != nil {
			t.Error(err)
		}
		if strings.Contains(strings.ReplaceAll(text, `"mark": null`, ""), "null") {
			t.Errorf("null in\n%s", text)
		}
	}
	strict(command(t, exitDone, "build", plan, "--json"), &build.Report{})
	result := command(t, exitDone, "grade", lab, "--json")
	strict(result, &grading.Result{})
	if n := strings.Count(result, `"mark": null`); n != 6 { // each in the results and in the marks
		t.Errorf("%d marks of three blank sheets are null", n)
	}
	strict(command(t, exitDone, "pack", "chart", "lamp", "--json"), &[]bestplay.Tree{})
}
