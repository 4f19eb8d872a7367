package content

// Block is one of the block types of this package: those of this file, [Table], [Figure] and [Cautions].
type Block interface{ block() }

func (Title) block()     {}
func (Strip) block()     {}
func (Heading) block()   {}
func (Entry) block()     {}
func (Paragraph) block() {}
func (List) block()      {}
func (Fields) block()    {}
func (Note) block()      {}
func (Form) block()      {}
func (Lines) block()     {}
func (Cards) block()     {}
func (Readings) block()  {}
func (Columns) block()   {}
func (Together) block()  {}
func (PageBreak) block() {}

// Title names a sheet: a heading of the first level.
type Title struct {
	Text  string
	Below string // what the sheet is for, "" for nothing
}

// Strip carries a name. On paper it is taken off before others see the sheet, so everything below it goes by the
// code alone.
type Strip struct {
	Name  string // "" where a name is to be written
	About string // the lab
	Note  string // what to do with it on paper; other renderers leave it out
}

// Heading begins a part.
type Heading struct {
	Level int // 2 or 3
	Text  string
}

// Entry is the heading of an entry in a long list, with a code that is found when leafing.
type Entry struct{ Code, Text, Aside string }

// Look is a hint for paper: running text in another size, and with narrow letters.
type Look struct {
	Size      float64 // pt; 0 for that of the section
	Condensed bool
}

// Paragraph is running text. An empty one is left out.
type Paragraph struct {
	Text string
	Look Look
}

// List has items, with numbers where their order matters.
type List struct {
	Numbered bool
	Items    []string
}

// Fields are texts with their labels. A label that is empty goes on with the one above; a text that is empty is
// left out.
type Fields struct {
	List []Field
	Look Look
}

// Field is a text with its label.
type Field struct{ Label, Text string }

// Note is a paragraph that stands out, with its name.
type Note struct{ Title, Text string }

// Form is a group of fields to fill in, each with a label; those of a row stand beside each other on paper.
type Form struct {
	Name string // "" for none
	Rows [][]string
}

// Lines are empty lines to write a longer text on.
type Lines struct {
	Label string
	Count int
}

// Cards are handed out one by one: on paper they are cut apart.
type Cards struct{ List []Card }

// Card has a name, the one thing to know, and more lines.
type Card struct {
	Name, Lead string
	Lines      []string
	// rows of a picture for cameras that says no more than the words, dark squares true; on paper only
	Squares [][]bool
}

// Readings are what a partner looks up by number and reads out.
type Readings struct{ List []Reading }

// Reading is one of them: number, letters that prove the look-up, and what the meter shows.
type Reading struct{ Number, Letters, Text string }

// Columns is a hint for paper: what it holds is set in columns, read downwards.
type Columns struct {
	N      int
	Blocks []Block
}

// Together is a hint for paper: what it holds is not parted by the end of a page.
type Together struct{ Blocks []Block }

// PageBreak is a hint for paper: a new page begins.
type PageBreak struct{}
