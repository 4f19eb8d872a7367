//go:build released

package main

import (
	"context"
	_ "embed"

	"nospark/cmd/internal/practicefile"
)

// The release lays these files in while it builds; they are nowhere in the source.
var (
	//go:embed practice.wasm.gz
	practicePacked []byte
	//go:embed wasm_exec.js
	practiceStarts []byte
)

// practiceProgram is the program for browsers that came with the release.
func practiceProgram(context.Context) (practicefile.Program, error) {
	return practicefile.Program{Packed: practicePacked, Starts: practiceStarts}, nil
}
