package practicefile

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
	"text/template"

	"nospark/cmd/internal/practice"
	"nospark/cmd/internal/web"
	"nospark/printouts/content"
)

//go:embed parts
var parts embed.FS

// page is what the template of the file knows.
type page struct {
	Policy, Cautions, Notice string // the template escapes these three; the others are written as they are
	Style, Text              string
	Starts, Script           string
	Offers                   string   // JSON without <
	Name                     string   // of what is in the file: another program or other vehicles have another one
	Packed                   string   // base85
	Shelves                  []string // base85
}

// Make puts the file together. The same input gives the same bytes.
func Make(p Program, shelves []*practice.Shelf) ([]byte, error) {
	shell, err := web.NewShell()
	if err != nil {
		return nil, err
	}
	script, err := parts.ReadFile("parts/page.js")
	if err != nil {
		return nil, err
	}
	extra, err := parts.ReadFile("parts/page.css")
	if err != nil {
		return nil, err
	}
	style := string(shell.Style()) + string(extra)
	var offers []practice.Offer
	text := string(shell.TextStyle())
	v := page{Text: text, Cautions: content.Plain(content.CautionsShort), Notice: practice.Notice, Style: style,
		Starts: string(p.Starts),
		Script: string(script), Packed: base85(p.Packed)}
	sum := sha256.New()
	sum.Write(p.Packed)
	for _, s := range shelves {
		data, err := s.Encode()
		if err != nil {
			return nil, err
		}
		sum.Write(data)
		offers = append(offers, s.Offer)
		v.Shelves = append(v.Shelves, base85(data))
	}
	list, err := json.Marshal(offers) // it writes < as \u003c, so nothing in it ends the element
	if err != nil {
		return nil, err
	}
	v.Offers, v.Name = string(list), hex.EncodeToString(sum.Sum(nil)[:6])
	// Nothing may be loaded, and nothing runs but the two scripts and the program. A compiled program needs the right
	// to be compiled.
	v.Policy = fmt.Sprintf("default-src 'none'; script-src '%s' '%s' 'wasm-unsafe-eval'; style-src '%s' '%s'; "+
		"img-src data:; "+
		"base-uri 'none'; form-action 'none'", hashed(string(p.Starts)), hashed(string(script)), hashed(style), hashed(text))
	tmpl, err := template.ParseFS(parts, "parts/page.html")
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := tmpl.ExecuteTemplate(&out, "page.html", v); err != nil {
		return nil, err
	}
	// or the policy would forbid what it is made for
	for _, inline := range []string{style, text, string(p.Starts), string(script)} {
		if !strings.Contains(out.String(), ">"+inline+"</") {
			return nil, fmt.Errorf("the page does not hold %.40q as it is", inline)
		}
	}
	return out.Bytes(), nil
}

// hashed names an inline script or style in a policy.
func hashed(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
