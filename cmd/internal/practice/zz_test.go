package practice

import (
	"crypto/rand"
	"net/url"
	"nospark/cmd/internal/web"
	"os"
	"testing"
)

func BenchmarkZZ(b *testing.B) {
	data, _ := os.ReadFile("/tmp/h-practice/measure/single-coil.gz")
	s, _ := Decode(data)
	g, _ := New(Config{Offers: []Offer{s.Offer}, Random: rand.Reader, Load: func(int) (*Shelf, error) { return s, nil }, Keep: func(string) error { return nil }})
	f := url.Values{"level": {"guided"}, "stage": {"single-coil " + s.Offer.Stages[len(s.Offer.Stages)-1].Complaint}}
	g.Do(web.Request{Method: "POST", Path: "/vehicle", Form: f})
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		g.Do(web.Request{Method: "POST", Path: "/vehicle", Form: f})
	}
}
