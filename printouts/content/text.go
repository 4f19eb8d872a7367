package content

import (
	"fmt"
	"strings"
)

// Text is a section as plain text for a screen reader, a braille display or a terminal: one line a paragraph, item
// or row, blocks parted by empty lines. Rows of tables name their columns, because a listener has none.
func Text(s Section) string {
	var t text
	t.blocks(s.Blocks)
	return t.String()
}

// text is a plain text being written.
type text struct {
	strings.Builder
	joined bool // no empty line before the next block
}

// line writes a line.
func (t *text) line(line string) { t.WriteString(strings.TrimRight(Plain(line), " ") + "\n") }

// begin parts a block from the one before, unless that was its heading.
func (t *text) begin() {
	if !t.joined && t.Len() > 0 {
		t.WriteString("\n")
	}
	t.joined = false
}

func (t *text) blocks(blocks []Block) {
	for _, b := range blocks {
		switch b := b.(type) {
		case Columns:
			t.blocks(b.Blocks)
		case Together:
			t.blocks(b.Blocks)
		case PageBreak:
		case Paragraph:
			if b.Text != "" {
				t.begin()
				t.line(b.Text)
			}
		default:
			t.begin()
			t.block(b)
		}
	}
}

// block writes a block that is no hint.
func (t *text) block(b Block) {
	switch b := b.(type) {
	case Title:
		t.line(b.Text)
		if b.Below != "" {
			t.line(b.Below)
		}
	case Strip:
		t.line(b.About)
		t.line("Name: " + b.Name)
	case Heading:
		t.line(b.Text)
		t.joined = true
	case Entry:
		t.line(b.Code + "  " + b.Text + "  " + b.Aside)
		t.joined = true
	case List:
		for i, item := range b.Items {
			sign := "-"
			if b.Numbered {
				sign = fmt.Sprintf("%d.", i+1)
			}
			t.line(sign + " " + item)
		}
	case Fields:
		t.fields(b)
	case Note:
		t.line(b.Title + ": " + b.Text)
	case Cautions:
		for _, words := range b.Words() {
			t.line(words)
		}
	case Table:
		t.table(b)
	case Readings:
		for _, r := range b.List {
			t.line(r.Number + " " + r.Letters + " " + r.Text)
		}
	case Form:
		t.form(b)
	case Lines:
		t.line(b.Label + ":")
	case Cards:
		t.cards(b)
	case Figure:
		t.figure(b)
	default:
		panic(fmt.Sprintf("content: no text of a block of type %T", b))
	}
}

func (t *text) fields(f Fields) {
	for _, field := range f.List {
		if field.Text == "" {
			continue
		}
		if field.Label != "" {
			field.Text = field.Label + ": " + field.Text
		}
		t.line(field.Text)
	}
}

// form writes a group of fields on one line, with room behind each label.
func (t *text) form(f Form) {
	var labels []string
	for _, row := range f.Rows {
		for _, label := range row {
			labels = append(labels, label+": ")
		}
	}
	if f.Name != "" {
		f.Name += ". "
	}
	t.line(f.Name + strings.Join(labels, "; "))
}

func (t *text) cards(c Cards) {
	for i, card := range c.List {
		if i > 0 {
			t.line("")
		}
		for _, line := range append([]string{card.Name, card.Lead}, card.Lines...) {
			t.line(line)
		}
	}
}

func (t *text) figure(f Figure) {
	if f.Caption != "" {
		t.line(f.Caption)
	}
	if f.Telling != "" {
		t.line(f.Telling + ":")
	}
	for _, words := range f.Words {
		t.line(words)
	}
}

// table writes a row as one line, or a line for each of its columns below its name where the columns are keyed.
func (t *text) table(table Table) {
	for _, row := range table.Rows {
		if table.Keyed > 0 {
			if table.Named(row, table.Keyed, len(row)) {
				t.line(strings.Join(row[:table.Keyed], " "))
				for i, cell := range row[table.Keyed:] {
					if cell != "" {
						t.line("  " + table.Columns[table.Keyed+i].Head + ": " + cell)
					}
				}
			}
			continue
		}
		var cells []string
		for i, cell := range row {
			if cell == "" {
				continue
			}
			if head := table.Columns[i].Head; head != "" {
				cell = head + ": " + cell
			}
			cells = append(cells, cell)
		}
		t.line(strings.Join(cells, "; "))
	}
}
