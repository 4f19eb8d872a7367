package testrun

import (
	"fmt"
	"testing"
)

// TestMissing keeps the two ways apart in which a test ends without its program.
func TestMissing(t *testing.T) {
	t.Setenv("CI", "")
	var skipped bool
	t.Run("elsewhere", func(t *testing.T) {
		defer func() { skipped = t.Skipped() }()
		Missing(t, fmt.Sprintf("as in %s", t.Name()))
	})
	if !skipped {
		t.Error("outside CI a missing program does not skip")
	}
}
