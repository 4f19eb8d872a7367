package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"time"

	"github.com/xuri/excelize/v2"

	"nospark/grading"
	"nospark/grading/adjust"
	"nospark/printouts/workbook/results"
)

//go:embed rows.mjs
var rowsScript []byte

// workbooks writes the results of 24 and 2,000 students with nospark and, the same sheets and rows with a head, rules
// and widths, with exceljs.
func workbooks(folder string) error {
	js := filepath.Join(folder, "js")
	if _, err := os.Stat(filepath.Join(js, "node_modules", "exceljs")); err != nil {
		fmt.Printf("  exceljs is not installed: npm install exceljs in %s\n", js)
		return nil
	}
	script := filepath.Join(js, "rows.mjs")
	if err := os.WriteFile(script, rowsScript, 0o644); err != nil {
		return err
	}
	for _, n := range []int{24, 2000} {
		lab, err := class(n)
		if err != nil {
			return err
		}
		rows, err := play(lab)
		if err != nil {
			return err
		}
		result, err := grading.Grade(lab, rows, adjust.Decisions{})
		if err != nil {
			return err
		}
		var book []byte
		ours, err := worked(func() (err error) {
			book, err = results.Workbook(lab, result)
			return err
		})
		if err != nil {
			return err
		}
		cells, err := dump(book, filepath.Join(folder, "rows.json"))
		if err != nil {
			return err
		}
		out, err := exec.Command("node", script, filepath.Join(folder, "rows.json"),
			filepath.Join(folder, "theirs.xlsx")).Output()
		if err != nil {
			return fmt.Errorf("node: %w", err)
		}
		micro, err := strconv.ParseInt(string(bytes.TrimSpace(out)), 10, 64)
		if err != nil {
			return err
		}
		row(fmt.Sprintf("%d students, %d cells, with charts and rules", n, cells), ours, "exceljs, cells and rules",
			time.Duration(micro)*time.Microsecond, 0)
	}
	return nil
}

// dump writes a workbook's sheets as rows of numbers and texts.
func dump(book []byte, path string) (cells int, err error) {
	f, err := excelize.OpenReader(bytes.NewReader(book))
	if err != nil {
		return 0, err
	}
	defer f.Close()
	type sheet struct {
		Name string  `json:"name"`
		Rows [][]any `json:"rows"`
	}
	var sheets []sheet
	for _, name := range f.GetSheetList() {
		rows, err := f.GetRows(name, excelize.Options{RawCellValue: true})
		if err != nil {
			return 0, err
		}
		s := sheet{Name: name}
		for _, texts := range rows {
			var values []any
			for _, text := range texts {
				cells++
				if x, err := strconv.ParseFloat(text, 64); err == nil {
					values = append(values, x)
				} else {
					values = append(values, text)
				}
			}
			s.Rows = append(s.Rows, values)
		}
		sheets = append(sheets, s)
	}
	data, err := json.Marshal(sheets)
	if err != nil {
		return 0, err
	}
	return cells, os.WriteFile(path, data, 0o644)
}
