// Package instructor says what the papers of the instructor hold: pairing list, how-to and answer key before a
// lab, overview after it, and the sheets on which competencies are signed. Key and overview know the faults; they
// are no handouts.
package instructor

import (
	"nospark/printouts/content"
	"nospark/scenarios/lab"
)

// document is a document of one section about a lab.
func document(lab *lab.Lab, what string, s content.Section) content.Document {
	return content.Document{Title: lab.Title + ", " + what, Program: lab.Program, Date: lab.Date, Paper: lab.Paper,
		Sections: []content.Section{s}}
}
