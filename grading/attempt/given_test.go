package attempt

import (
	"errors"
	"testing"
)

// TestGivenOnce: a spare is one student's; the same again is no news, and nobody else gets it.
func TestGivenOnce(t *testing.T) {
	a := &Attempt{Sheet: "K2-BCD"}
	first := Event{Kind: Give, Sheet: a.Sheet, Student: "1001", Name: "Ada Quill"}
	if news, err := a.Check(first, nil); !news || err != nil {
		t.Fatalf("%v, %v", news, err)
	}
	a.apply(first)
	if news, err := a.Check(first, nil); news || err != nil {
		t.Errorf("again: %v, %v", news, err)
	}
	var refusal *Refusal
	other := first
	other.Student = "1002"
	if _, err := a.Check(other, nil); !errors.As(err, &refusal) || refusal.Why != Given {
		t.Errorf("to another: %v", err)
	}
}

// TestAfterTheClose: debriefs can be released, and nothing else follows.
func TestAfterTheClose(t *testing.T) {
	r := NewRoom()
	for _, e := range []Event{{Kind: Close}, {Kind: Release}, {Kind: Release}} {
		if err := r.Apply(e); err != nil {
			t.Errorf("%s: %v", e.Kind, err)
		}
	}
	for _, e := range []Event{{Kind: Close}, {Kind: Start}, {Kind: Claim, Sheet: "A"},
		{Kind: Commit, Sheet: "A", Key: "k", Test: "t", Expect: "x"}} {
		if err := r.Apply(e); err == nil {
			t.Errorf("%s follows the close", e.Kind)
		}
	}
	if !r.Released || !r.Closed {
		t.Errorf("%+v", r)
	}
}
