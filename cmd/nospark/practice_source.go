//go:build !released

package main

import (
	"context"

	"nospark/cmd/internal/practicefile"
)

// practiceProgram compiles the program for browsers from the source that this program is run from.
func practiceProgram(ctx context.Context) (practicefile.Program, error) {
	root, err := practicefile.Source(ctx)
	if err != nil {
		return practicefile.Program{}, err
	}
	return practicefile.Compile(ctx, root)
}
