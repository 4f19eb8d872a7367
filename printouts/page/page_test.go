package page

import (
	"bytes"
	"testing"
)

func TestSameCallsGiveTheSameBytes(t *testing.T) {
	if !bytes.Equal(sample(t, Options{}), sample(t, Options{})) {
		t.Error("two documents from the same calls differ")
	}
}
