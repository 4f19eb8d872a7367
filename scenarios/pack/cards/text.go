package cards

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"nospark/scenarios/strict"
)

// Text is the table of part kinds as text: of every kind its pins, what it does, its parameters with unit, default
// and valid range, and where the figures come from. A pack file can be written from it.
func Text() string {
	var b strings.Builder
	for i := range Kinds {
		if i > 0 {
			b.WriteString("\n")
		}
		Kinds[i].card(&b)
	}
	return b.String()
}

// card writes the card of one kind.
func (k *Kind) card(b *strings.Builder) {
	fmt.Fprintf(b, "%s\n", k.Name)
	fmt.Fprintf(b, "  pins    %s\n", k.pinText())
	fmt.Fprintf(b, "  does    %s\n", k.Equation)
	fmt.Fprintf(b, "  source  %s\n", k.Source)
	if k.Main >= 0 {
		fmt.Fprintf(b, "  tolerance spreads %s\n", k.Params[k.Main].Name)
	}
	rows := [][]string{{"parameter", "unit", "default", "range", ""}}
	for i := range k.Params {
		p := &k.Params[i]
		rows = append(rows, []string{p.Name, p.Unit, k.defaultText(p), p.rangeText(), p.Note})
	}
	aligned(b, rows)
}

// pinText lists the pins in order and says which may be left out or follow.
func (k *Kind) pinText() string {
	text := strings.Join(k.Pins, ", ")
	switch {
	case k.More:
		text += ", and so on"
	case k.Optional == 1:
		text += fmt.Sprintf("; %s may be left out", k.Pins[len(k.Pins)-1])
	case k.Optional > 1:
		text += fmt.Sprintf("; the last %d may be left out", k.Optional)
	}
	return text
}

// defaultText is the value of a parameter that a pack leaves out. A wire's resistance and a battery's emf can be
// given in two ways.
func (k *Kind) defaultText(p *Param) string {
	either := k.Name == "wire" || k.Name == "battery"
	switch {
	case p.Required || math.IsNaN(p.Default) && !either:
		return "required"
	case p.Kind == Boolean:
		return fmt.Sprint(p.Default != 0)
	case p.Kind == KeyPositions:
		return positionsText(KeyPosition(p.Default))
	case math.IsNaN(p.Default):
		return "-"
	case math.IsInf(p.Default, 1):
		return "open"
	}
	return strict.Digits(p.Default)
}

// rangeText is what may be written for a parameter.
func (p *Param) rangeText() string {
	switch p.Kind {
	case Boolean:
		return "true, false"
	case KeyPositions:
		return strings.Join(KeyNames(), ", ")
	}
	text := strict.Within(p.Min, p.Max, "")
	if p.Whole {
		text += ", whole"
	}
	if p.Open {
		text += ", open"
	}
	if p.Short {
		text += ", short"
	}
	return text
}

// positionsText lists the key positions of a set.
func positionsText(k KeyPosition) string {
	var list []string
	for _, position := range keys {
		if k&position.key != 0 {
			list = append(list, position.name)
		}
	}
	return strings.Join(list, ", ")
}

// aligned writes rows with columns as wide as their widest cell; the last column is left as it is.
func aligned(b *strings.Builder, rows [][]string) {
	var wide []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		line := "    "
		for i, cell := range row {
			line += cell
			if i < len(row)-1 {
				line += strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell)+2)
			}
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}
