package content

// Language is the language of all documents (BCP 47).
const Language = "en-US"

// Document is what goes into one file.
type Document struct {
	Title      string // of the lab and what the document is; it names nobody and no sheet
	Program    string
	Date       string // like 2026-10-05
	Paper      string // "letter" or "a4"
	FrontPages bool   // its sections are handed out one by one: each begins on the front of a sheet of paper
	Sections   []Section
}

// Section is a sheet for one person, or a document that has only one.
type Section struct {
	Name   string // in an outline
	Left   string // in the head of every page, as Right is
	Right  string // what tells this sheet from others
	Foot   string
	Large  bool    // for a reader of large print
	Size   float64 // of running text on paper, pt; 0 for the usual size
	Side   float64 // margins at the sides of the paper, mm; 0 for the usual ones
	Across bool    // lies across where that shows its figure larger
	Blocks []Block
}
