package main

import (
	"flag"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected output in the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"nospark": main}) // the test program is nospark when it is called so
}

// TestScripts runs the commands as their users do; each script in testdata/scripts holds its files and what must be printed.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "../../testdata/scripts", UpdateScripts: *update, RequireExplicitExec: true})
}
