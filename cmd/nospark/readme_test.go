package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
)

// The console blocks of README.md are run, in order and in one folder, and must print what the README shows.
func TestReadmeConsoleBlocks(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	ran := 0
	for i, block := range strings.Split(string(text), "```console\n")[1:] {
		block, _, _ = strings.Cut(block, "```")
		for _, part := range strings.Split(block, "$ nospark ")[1:] {
			line, want, _ := strings.Cut(part, "\n")
			var out, errOut bytes.Buffer
			if code := run(context.Background(), strings.Fields(line), strings.NewReader(""), &out,
				&errOut); code != exitDone {
				t.Fatalf("block %d: nospark %s: exit status %d\n%s", i+1, line, code, errOut.String())
			}
			if got := strings.TrimSpace(out.String()); got != strings.TrimSpace(want) {
				t.Errorf("block %d: nospark %s prints\n%s\nREADME.md says\n%s", i+1, line, got, want)
			}
			ran++
		}
	}
	if ran == 0 {
		t.Error("README.md has no console block")
	}
}
