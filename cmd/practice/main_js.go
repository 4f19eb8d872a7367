// Command practice is the program inside a practice file, compiled for browsers. The page around it (package
// practicefile) hands it the shelves and asks it for pages; it asks nobody for anything.
package main

import (
	"crypto/rand"
	"encoding/json"
	"errors"
	"net/url"
	"strings"
	"syscall/js"
	"time"

	"nospark/cmd/internal/practice"
	"nospark/cmd/internal/web"
)

// main gives the page a function and stays to answer it: do(method, path, form) returns status, location and body. What
// the page has to offer is its object "nospark": offers, a text; shelf(i), bytes; kept(what), a text; keep(what, text),
// which tells whether it was kept. prepare(stage) does a piece of what will be wanted soon and tells whether there is
// more.
func main() {
	page := js.Global().Get("nospark")
	game, err := begin(page)
	if err != nil {
		page.Call("failed", err.Error())
		return
	}
	page.Set("answer", js.FuncOf(func(_ js.Value, args []js.Value) any {
		form, err := url.ParseQuery(args[2].String())
		if err != nil {
			form = url.Values{}
		}
		a := game.Do(web.Request{Method: args[0].String(), Path: args[1].String(), Form: form, At: time.Now().Unix()})
		return map[string]any{"status": a.Status, "location": a.Location, "body": string(a.Body)}
	}))
	page.Set("prepare", js.FuncOf(func(_ js.Value, args []js.Value) any { return game.Prepare(args[0].String()) }))
	page.Call("ready")
	select {}
}

func begin(page js.Value) (*practice.Game, error) {
	var offers []practice.Offer
	if err := json.NewDecoder(strings.NewReader(page.Get("offers").String())).Decode(&offers); err != nil {
		return nil, err
	}
	keep := func(what string) func(string) error {
		return func(text string) error {
			if !page.Call("keep", what, text).Bool() {
				return errors.New("this browser keeps nothing")
			}
			return nil
		}
	}
	return practice.New(practice.Config{
		Offers: offers, Random: rand.Reader, Log: page.Call("kept", "").String(),
		Vehicle: page.Call("kept", "vehicle").String(), KeepLog: keep(""), KeepVehicle: keep("vehicle"),
		Load: func(i int) (*practice.Shelf, error) {
			packed := page.Call("shelf", i)
			data := make([]byte, packed.Length())
			js.CopyBytesToGo(data, packed)
			return practice.Decode(data)
		},
	})
}
