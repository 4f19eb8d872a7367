package roster

// Options help with files that leave a choice. The zero value suits a file
// with the columns id, name, section.
type Options struct {
	// Class chooses the class of a OneRoster package by its sourcedId,
	// classCode or title. It may be empty if the package has one class.
	Class string
	// Classes chooses several classes instead of one; each becomes a section.
	Classes []string
	// Date is the day of the lab, 2026-10-05: whose enrollment ended before it
	// is left out. "": nobody is.
	Date string
	// IDColumn is the heading of the column with the ids. For OneRoster it is
	// sourcedId (the default), identifier or username. If it is empty and the
	// file has no column "id", the usual headings are tried.
	IDColumn string
}
