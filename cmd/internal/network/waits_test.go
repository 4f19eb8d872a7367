package network

import (
	"testing"
	"time"
)

// TestAdmittedAsSeen: asking for another sheet changes nothing once the desk has let a device in, and before that it
// takes another word, so that the desk never admits to a sheet that it has not seen. A second click does nothing.
func TestAdmittedAsSeen(t *testing.T) {
	w, now := &Waits{}, time.Unix(1000, 0)
	own, _ := w.add("", "K2-BCD", "1001", now)
	other, _ := w.add(own.ticket, "K3-BCD", "1002", now)
	if other.ticket == own.ticket || len(w.List()) != 1 {
		t.Fatalf("asking for another sheet keeps the place: %+v", w.List())
	}
	admit := func(p Waiting) (string, int, error) { return p.Sheet, 1, nil }
	if err := w.Answer(own.Word, admit); err != nil {
		t.Fatal(err)
	}
	if _, waits := w.find(own.ticket); waits {
		t.Error("the word that was seen lets in to another sheet")
	}
	admitted := 0
	err := w.Answer(other.Word, func(p Waiting) (string, int, error) {
		admitted++
		if err := w.Answer(other.Word, admit); err != nil { // a second click meanwhile
			t.Error(err)
		}
		if p, ok := w.find(other.ticket); !ok || p.Device != 0 {
			t.Errorf("the second click let in: %+v", p)
		}
		return p.Sheet, 1, nil
	})
	if err != nil || admitted != 1 {
		t.Errorf("%d times let in, %v", admitted, err)
	}
	again, ok := w.add(other.ticket, "K2-BCD", "1001", now)
	if !ok || again.Sheet != "K3-BCD" || again.Device != 1 {
		t.Errorf("asking again after it changes the sheet: %+v", again)
	}
}
