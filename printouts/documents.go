package printouts

import (
	"io/fs"
	"slices"

	"nospark/grading"
	"nospark/grading/bestplay"
	"nospark/grading/competency"
	"nospark/grading/competency/lists"
	"nospark/printouts/coordinator"
	"nospark/printouts/handouts"
	"nospark/printouts/instructor"
	"nospark/printouts/paper"
	"nospark/printouts/paper/charts"
	"nospark/printouts/paper/debriefs"
	"nospark/printouts/paper/readings"
	"nospark/printouts/paper/worksheets"
	"nospark/printouts/workbook/results"
	"nospark/printouts/workbook/rollup"
	"nospark/printouts/workbook/signing"
	"nospark/scenarios/handout"
	"nospark/scenarios/lab"
)

// Who may read a file on a machine with several users: what students get is for everybody, whatever holds a fault, a
// reading or a mark is for the instructor alone, as term.key is.
const (
	forAll        fs.FileMode = 0o644
	forInstructor fs.FileMode = 0o600
)

// Reader is for whom a document is.
type Reader string

// Readers of documents.
const (
	Student     Reader = "student"
	Partner     Reader = "partner"
	Instructor  Reader = "instructor"
	Coordinator Reader = "coordinator"
)

// Booklet is the document that labs of one pack have in common, LargeBooklet the same in large print.
const (
	Booklet      = "handouts/booklet.pdf"
	LargeBooklet = "handouts/booklet-large.pdf"
)

// occasion is what makes a document due.
type occasion uint8

const (
	atBuild occasion = iota
	reprint
	grade
	summary // of a term
	codes   // the same without names
	signature
)

// unit is what there is one document for.
type unit uint8

const (
	whole   unit = iota // lab or term
	part                // of a large school
	sheet               // of a lab
	section             // of a school
)

// document is a row of the table.
type document struct {
	path   string // in the folder of the lab or the term; * stands for part, sheet or section
	reader Reader
	mode   fs.FileMode
	due    occasion
	per    unit
	apart  bool // spares are in a document of their own
	make   func(source) ([]byte, error)
	prints printing
	online bool // goes on line, or to whoever reads with ears or fingers; what does not is for the printer
	keep   bool // somebody may have edited it: it is not written over
	large  bool // only where somebody wants large print
}

// printing is how a document comes to paper.
type printing uint8

const (
	seldom   printing = iota // read on a screen, or not for the class
	twoSided                 // once, on both sides
	oneSided                 // once, on one side
	forTwo                   // on both sides, one copy for two sheets of the lab
	forLarge                 // on both sides, one copy for each sheet in large print
)

// source is what documents are made from; what a document has no use for is not there.
type source struct {
	lab     *lab.Lab        // or a part of it
	handout handout.Handout // of a document for each sheet
	sheet   int             // of the handout
	result  *grading.Result // or a part of it
	term    *competency.Term
	today   string // of what is to be signed
	section string
}

// documents are all that there are. The slowest come first.
func documents() []document {
	return []document{
		{path: "instructor/key.pdf", reader: Instructor, mode: forInstructor, due: atBuild, per: whole, make: key},
		{path: "instructor/how-to-run.pdf", reader: Instructor, mode: forInstructor, due: atBuild, per: whole,
			prints: twoSided, make: howTo},
		{path: "instructor/isolation-chart.pdf", reader: Instructor, mode: forInstructor, due: atBuild, per: whole,
			make: chart},
		{path: "instructor/pairing*.pdf", reader: Instructor, mode: forInstructor, due: atBuild, per: part,
			prints: oneSided, make: ofHandout(pairing)},
		{path: Booklet, reader: Student, mode: forAll, due: atBuild, per: whole,
			prints: forTwo, make: withoutSheets(ofHandout(booklet))},
		{path: LargeBooklet, reader: Student, mode: forAll, due: atBuild, per: whole, large: true,
			prints: forLarge, make: withoutSheets(ofHandout(largeBooklet))},
		{path: "handouts/worksheets*.pdf", reader: Student, mode: forAll, due: atBuild, per: part, apart: true,
			prints: twoSided, make: ofHandout(worksheets.PDF)},
		{path: "partners/readings*.pdf", reader: Partner, mode: forInstructor, due: atBuild, per: part, apart: true,
			prints: oneSided, make: ofHandout(readings.PDF)},
		{path: "handouts/pages/booklet.html", reader: Student, mode: forAll, due: atBuild, per: whole, online: true,
			make: withoutSheets(asPage(ofBooklet))},
		{path: "handouts/pages/*-worksheet.html", reader: Student, mode: forAll, due: atBuild, per: sheet, online: true,
			make: asPage(ofWorksheet)},
		{path: "partners/pages/*-readings.html", reader: Partner, mode: forInstructor, due: atBuild, per: sheet,
			online: true, make: asPage(ofReadings)},
		{path: "handouts/text/booklet.txt", reader: Student, mode: forAll, due: atBuild, per: whole, online: true,
			make: withoutSheets(asText(ofBooklet))},
		{path: "handouts/text/*-worksheet.txt", reader: Student, mode: forAll, due: atBuild, per: sheet, online: true,
			make: asText(ofWorksheet)},
		{path: "partners/text/*-readings.txt", reader: Partner, mode: forInstructor, due: atBuild, per: sheet,
			online: true, make: asText(ofReadings)},

		{path: "handouts/reprints/*-worksheet.pdf", reader: Student, mode: forAll, due: reprint, per: sheet,
			make: oneSheet(worksheets.PDF)},
		{path: "partners/reprints/*-readings.pdf", reader: Partner, mode: forInstructor, due: reprint, per: sheet,
			make: oneSheet(readings.PDF)},

		{path: "graded/results.xlsx", reader: Instructor, mode: forInstructor, due: grade, per: whole,
			make: marks, keep: true},
		{path: "graded/overview.pdf", reader: Instructor, mode: forInstructor, due: grade, per: whole, make: overview},
		{path: "graded/debriefs*.pdf", reader: Student, mode: forInstructor, due: grade, per: part, make: debriefings},
		{path: "graded/pages/*-debrief.html", reader: Student, mode: forInstructor, due: grade, per: sheet,
			online: true,
			make:   asPage(ofDebrief)},
		{path: "graded/text/*-debrief.txt", reader: Student, mode: forInstructor, due: grade, per: sheet, online: true,
			make: asText(ofDebrief)},

		{path: "competency.xlsx", reader: Coordinator, mode: forInstructor, due: summary, per: whole,
			make: competencies(true)},
		{path: "coordinator.html", reader: Coordinator, mode: forInstructor, due: summary, per: whole,
			make: answers},
		{path: "sign-offs*.pdf", reader: Instructor, mode: forInstructor, due: summary, per: section, make: signOffs},
		{path: lists.SignBook, reader: Instructor, mode: forInstructor, due: signature, per: whole, make: toSign,
			keep: true},
		{path: "competency-codes.xlsx", reader: Coordinator, mode: forInstructor, due: codes, per: whole,
			make: competencies(false)},
		{path: "evidence.csv", reader: Coordinator, mode: forInstructor, due: summary, per: whole,
			make: evidenceTable(true)},
		{path: "evidence-codes.csv", reader: Coordinator, mode: forInstructor, due: codes, per: whole,
			make: evidenceTable(false)},
	}
}

// ofHandout makes a document of what students may see of a lab, and of nothing else.
func ofHandout(make func(handout.Handout) ([]byte, error)) func(source) ([]byte, error) {
	return func(s source) ([]byte, error) {
		h, err := handout.Of(s.lab)
		if err != nil {
			return nil, err
		}
		return make(h)
	}
}

// withoutSheets spares what is the same for everyone the trouble with each sheet.
func withoutSheets(make func(source) ([]byte, error)) func(source) ([]byte, error) {
	return func(s source) ([]byte, error) {
		lab := *s.lab
		lab.Sheets = nil
		return make(source{lab: &lab})
	}
}

// oneSheet makes a document of a single sheet.
func oneSheet(make func(handout.Handout) ([]byte, error)) func(source) ([]byte, error) {
	return func(s source) ([]byte, error) { return make(only(s.handout, s.sheet)) }
}

func pairing(h handout.Handout) ([]byte, error) { return paper.PDF(instructor.Pairing(h)) }

func booklet(h handout.Handout) ([]byte, error) { return paper.PDF(handouts.Booklet(h)) }

func largeBooklet(h handout.Handout) ([]byte, error) { return paper.PDF(handouts.LargeBooklet(h)) }

func howTo(s source) ([]byte, error) { return paper.PDF(instructor.HowTo(s.lab)) }

func key(s source) ([]byte, error) {
	key, err := bestplay.NewKey(s.lab)
	if err != nil {
		return nil, err
	}
	return paper.PDF(instructor.Key(s.lab, key))
}

// chart draws best play for every complaint that some sheet has.
func chart(s source) ([]byte, error) {
	var trees []*bestplay.Tree
	for c := range s.lab.Complaints {
		if !slices.ContainsFunc(s.lab.Sheets, func(s lab.Sheet) bool { return s.Complaint == c }) {
			continue
		}
		tree, err := bestplay.LabTree(s.lab, c)
		if err != nil {
			return nil, err
		}
		trees = append(trees, tree)
	}
	return charts.PDF(charts.Cover{Program: s.lab.Program, Date: s.lab.Date, Paper: s.lab.Paper}, trees...)
}

func marks(s source) ([]byte, error) { return results.Workbook(s.lab, s.result) }

func overview(s source) ([]byte, error) { return paper.PDF(instructor.Overview(s.lab, s.result)) }

func debriefings(s source) ([]byte, error) { return debriefs.PDF(s.lab, s.result) }

func competencies(names bool) func(source) ([]byte, error) {
	return func(s source) ([]byte, error) {
		return rollup.Workbook(s.term, rollup.Options{Names: names})
	}
}

func evidenceTable(names bool) func(source) ([]byte, error) {
	return func(s source) ([]byte, error) { return s.term.EvidenceTable(names), nil }
}

func toSign(s source) ([]byte, error) { return signing.Form(s.term, s.today) }

func answers(s source) ([]byte, error) { return coordinator.Page(s.term) }

func signOffs(s source) ([]byte, error) {
	doc, err := instructor.SignOffs(s.term, s.term.Section(s.section))
	if err != nil {
		return nil, err
	}
	return paper.PDF(doc)
}
