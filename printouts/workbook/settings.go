package workbook

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// applySettings makes all settings of the worksheet but its rows.
func (s *Sheet) applySettings() {
	b, f := s.book, s.book.file
	for _, column := range slices.Sorted(maps.Keys(s.Widths)) {
		b.check(f.SetColWidth(s.name, columnName(column), columnName(column), s.Widths[column]))
	}
	if s.Filter != "" { // before the properties, which it would undo
		b.check(f.AutoFilter(s.name, s.Filter, nil))
	}
	orientation := "landscape"
	if s.Portrait {
		orientation = "portrait"
	}
	across, high := 1, 0 // as many pages below one another as it takes
	if s.OnePage {
		high = 1
	}
	layout := excelize.PageLayoutOptions{Size: &b.paper, Orientation: &orientation, FitToWidth: &across,
		FitToHeight: &high}
	b.check(f.SetPageLayout(s.name, &layout))
	props := excelize.SheetPropsOptions{FitToPage: new(true)}
	if s.TabColor != "" {
		props.TabColorRGB = &s.TabColor
	}
	b.check(f.SetSheetProps(s.name, &props))
	margin, edge := 0.5, 0.3 // inches
	b.check(f.SetPageMargins(s.name, &excelize.PageLayoutMarginsOptions{Left: &margin, Right: &margin, Top: &margin,
		Bottom: new(0.7),
		Header: &edge, Footer: &edge}))
	footer := strings.ReplaceAll(b.footer, "&", "&&")
	if runes := []rune(footer); len(runes) > 120 { // a foot of more than 255 characters damages the file
		footer = strings.TrimRight(string(runes[:120]), "&") + "…"
	}
	b.check(f.SetHeaderFooter(s.name, &excelize.HeaderFooterOptions{OddFooter: "&L&8" + spaced(footer) +
		"&C&8&A&R&8page &P of &N"}))
	// Cells that belong to a table have lines of their own.
	b.check(f.SetSheetView(s.name, -1, &excelize.ViewOptions{ShowGridLines: new(false)}))
	if s.HeadRow > 0 && !s.ScreenOnly {
		b.check(f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: fmt.Sprintf("'%s'!$%d:$%d",
			s.name, s.HeadRow, s.HeadRow), Scope: s.name}))
	}
	if s.ScreenOnly {
		b.check(f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: s.Range(1, 1, 2, 11),
			Scope: s.name}))
	}
	if s.PrintedColumns > 0 {
		b.check(f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area",
			RefersTo: s.Range(1, 1, max(s.rows(), 1), s.PrintedColumns), Scope: s.name}))
	}
	if s.Frozen != [2]int{} {
		s.freeze()
	}
	if s.Locked {
		b.check(f.ProtectSheet(s.name, &excelize.SheetProtectionOptions{SelectLockedCells: true,
			SelectUnlockedCells: true, AutoFilter: true,
			FormatColumns: true, FormatRows: true}))
	}
}

// spaced keeps a foot that begins with a digit from being read as a size of letters.
func spaced(footer string) string {
	if footer != "" && footer[0] >= '0' && footer[0] <= '9' {
		return " " + footer
	}
	return footer
}

// freeze keeps rows and columns in view. Which pane is active depends on what is frozen; a wrong one
// leaves the cursor where it cannot be seen.
func (s *Sheet) freeze() {
	pane := "bottomRight"
	switch 0 {
	case s.Frozen[0]:
		pane = "topRight"
	case s.Frozen[1]:
		pane = "bottomLeft"
	}
	corner := Ref(s.Frozen[0]+1, s.Frozen[1]+1)
	s.book.check(s.book.file.SetPanes(s.name, &excelize.Panes{Freeze: true, YSplit: s.Frozen[0], XSplit: s.Frozen[1],
		TopLeftCell: corner,
		ActivePane:  pane, Selection: []excelize.Selection{{SQRef: corner, ActiveCell: corner, Pane: pane}}}))
}
