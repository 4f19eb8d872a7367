package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestQuestionsHaveAnswers: DEVELOPERS.md answers a newcomer's five questions with a file each, which exists and says
// so in its first comment.
func TestQuestionsHaveAnswers(t *testing.T) {
	guide, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(guide), "\n"); n > 130 {
		t.Errorf("DEVELOPERS.md has %d lines, at most 130 are read", n)
	}
	words := map[string][]string{ // of the question, that the file's first comment has too
		"Where is a mark computed?":                   {"mark"},
		"Where is decided which fault a sheet hides?": {"sheet", "hide"},
		"What may a student's page contain?":          {"students"},
		"Where does a reading come from?":             {"reading"},
		"Where is a CSV read?":                        {"CSV"},
	}
	rows := regexp.MustCompile("(?m)^\\| (.*\\?) \\| `([^`]+)` \\|$").FindAllStringSubmatch(string(guide), -1)
	if len(rows) != len(words) {
		t.Fatalf("%d questions, want %d", len(rows), len(words))
	}
	for _, row := range rows {
		source, err := os.ReadFile(filepath.Join("../..", filepath.FromSlash(row[2])))
		if err != nil {
			t.Error(err)
			continue
		}
		comment := firstComment(string(source))
		for _, word := range words[row[1]] {
			if !strings.Contains(comment, word) {
				t.Errorf("%s: the first comment of %s does not speak of %q:\n%s", row[1], row[2], word, comment)
			}
		}
		if words[row[1]] == nil {
			t.Errorf("question %q is not known", row[1])
		}
	}
}

// firstComment is the first run of comment lines of a file.
func firstComment(source string) string {
	var lines []string
	for _, line := range strings.Split(source, "\n") {
		if strings.HasPrefix(line, "//") {
			lines = append(lines, line)
		} else if len(lines) > 0 {
			break
		}
	}
	return strings.Join(lines, "\n")
}
