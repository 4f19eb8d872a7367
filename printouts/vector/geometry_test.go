package vector

import (
	"math"
	"math/rand"
	"testing"
)

// TestCrossed compares the clipping with points sampled along the line.
func TestCrossed(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	box := Box(2, 3, 4, 2)
	for range 3000 {
		a, b := At(r.Float64()*10, r.Float64()*10), At(r.Float64()*10, r.Float64()*10)
		deep, shallow := false, false
		for k := 0.0; k <= 1; k += 1.0 / 512 {
			p := Between(a, b, k)
			in := math.Min(math.Min(p.X-box.X, box.X+box.W-p.X), math.Min(p.Y-box.Y, box.Y+box.H-p.Y))
			deep, shallow = deep || in > 0, shallow || in > -0.05
		}
		if got := box.Crossed(a, b); deep && !got || got && !shallow {
			t.Errorf("Crossed(%v, %v) = %v", a, b, got)
		}
	}
	if box.Crossed(At(0, 3), At(10, 3)) {
		t.Error("a line along the edge does not enter")
	}
}
