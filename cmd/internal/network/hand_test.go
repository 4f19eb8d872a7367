package network

import (
	"testing"
	"time"
)

// TestPairingServesOnce: a link pairs one phone, for two minutes; another link ends the one before, and the desk can
// send all away.
func TestPairingServesOnce(t *testing.T) {
	p, now := &Pairing{}, time.Unix(1000, 0)
	if _, ok := p.take("", now); ok {
		t.Error("paired without a link")
	}
	old := p.Offer(now)
	key := p.Offer(now)
	if _, ok := p.take(old, now); ok {
		t.Error("an older link pairs")
	}
	if _, ok := p.take(key, now.Add(pairable)); ok {
		t.Error("a link pairs after its time")
	}
	session, ok := p.take(key, now.Add(pairable-time.Second))
	if !ok || !p.paired(session) || p.Phones() != 1 || p.Open(now) != "" {
		t.Fatalf("%v, %d phones", ok, p.Phones())
	}
	if _, ok := p.take(key, now); ok {
		t.Error("a link pairs twice")
	}
	if p.paired("") || p.paired(key) {
		t.Error("no session is one")
	}
	key = p.Offer(now)
	p.Revoke()
	if _, ok := p.take(key, now); ok || p.paired(session) || p.Phones() != 0 {
		t.Error("something stays after all phones were sent away")
	}
}
