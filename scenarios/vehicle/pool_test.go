package vehicle

import "testing"

// Solutions are used again for their memory; that must not show in any reading.
func TestPooledSolutionsReadTheSame(t *testing.T) {
	b := loaded(t, "single-coil")
	first := b.v.Shown(nil)
	b.v.forget()
	for i, again := range b.v.Shown(nil) {
		if again.Text != first[i].Text {
			t.Errorf("%s: %q at first, %q again", b.p.Tests[i].ID, first[i].Text, again.Text)
		}
	}
}
