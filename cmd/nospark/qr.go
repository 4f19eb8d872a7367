package main

import (
	"fmt"
	"html/template"
	"strings"

	"rsc.io/qr"
)

// quiet is the margin that a QR code needs, in modules (ISO/IEC 18004).
const quiet = 4

// modules tells which squares of the QR code of a text are dark, its margin included.
func modules(text string) ([][]bool, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil, err
	}
	all := make([][]bool, code.Size+2*quiet)
	for y := range all {
		all[y] = make([]bool, len(all))
		for x := range all[y] {
			all[y][x] = code.Black(x-quiet, y-quiet)
		}
	}
	return all, nil
}

// qrText draws a QR code for a terminal, two squares above each other in a character. Light squares are drawn, dark
// ones left out, as terminals are mostly dark; cameras read both.
func qrText(text string) string {
	all, err := modules(text)
	if err != nil {
		return ""
	}
	var b strings.Builder
	for y := 0; y < len(all); y += 2 {
		for x := range all[y] {
			above, below := !all[y][x], y+1 < len(all) && !all[y+1][x]
			switch {
			case above && below:
				b.WriteRune('█')
			case above:
				b.WriteRune('▀')
			case below:
				b.WriteRune('▄')
			default:
				b.WriteByte(' ')
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// qrImage draws a QR code for a page; it is dark on white whatever the page is.
func qrImage(text string) template.HTML {
	all, err := modules(text)
	if err != nil || text == "" {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg viewBox="0 0 %d %d" role="img" aria-label="QR code of the address">`+
		`<rect width="%d" height="%d" fill="#fff"/><path fill="#000" d="`,
		len(all), len(all), len(all), len(all))
	for y, row := range all {
		for x, dark := range row {
			if dark {
				fmt.Fprintf(&b, "M%d %dh1v1h-1z", x, y)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return template.HTML(b.String())
}
