package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected output in the scripts")

func TestMain(m *testing.M) {
	// The test program is nospark when it is called so, and a class of simulated students when it is called play.
	testscript.Main(m, map[string]func(){"nospark": main, "play": playMain})
}

// playMain writes what simulated students hand in, for the labs named: the first of a class plays best.
func playMain() {
	for _, folder := range os.Args[1:] {
		lab, err := readLab(folder)
		if err == nil {
			err = playClass(lab, 0, filepath.Join(folder, "entries", "class.csv"))
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

// TestScripts runs the commands as their users do; each script in testdata/scripts holds its files and what must be
// printed. A short run takes those of the way from a new term to its marks.
func TestScripts(t *testing.T) {
	const folder = "../../testdata/scripts"
	params := testscript.Params{Dir: folder, UpdateScripts: *update, RequireExplicitExec: true}
	if testing.Short() {
		t.Log("a few scripts; without -short all run")
		params.Dir = ""
		for _, name := range []string{"term", "results", "slips"} {
			params.Files = append(params.Files, filepath.Join(folder, name+".txtar"))
		}
	}
	testscript.Run(t, params)
}
