// Package roster reads class lists: who is in a lab, under which id, in which
// section.
//
// Start at [Read]. It takes a CSV file with the columns id, name, section and
// large_print, the export of the instructor's own gradebook, or a OneRoster
// 1.1 or 1.2 CSV package as a folder or a zip. Spreadsheets save CSV in many
// ways; package tabular reads all of them, and what was guessed is told in
// remarks.
//
// Only ids, names, sections and the wish for large print are kept. Passwords,
// addresses and telephone numbers of an export are never copied out of the
// line they stand in.
//
// The package writes nothing and does not know about marks.
package roster

import (
	"os"
	"path/filepath"
	"strings"

	"nospark/scenarios/disk"
)

// maxFile bounds what is read from one file: a class list of ten thousand
// students has less than one megabyte, a district's users.csv some dozen.
const maxFile = 64 << 20

// Read reads the class list at path. The error holds everything that is wrong
// with the file, one line each, as "file:line: what; what to do". A roster with
// an error is not returned in part.
func Read(path string, opts Options) (Roster, error) {
	info, err := os.Stat(path)
	if err == nil && info.IsDir() {
		return readOneRoster(openFolder(path), opts)
	}
	data, err := disk.Read(path, maxFile)
	if err != nil {
		return Roster{}, err
	}
	name := filepath.Clean(path)
	if strings.HasPrefix(string(data), "PK\x03\x04") || strings.HasPrefix(string(data), "PK\x05\x06") {
		return readZip(name, data, opts)
	}
	return readList(name, data, opts)
}

func readZip(name string, data []byte, opts Options) (Roster, error) {
	p, err := openZip(name, data)
	if err != nil {
		return Roster{}, err
	}
	return readOneRoster(p, opts)
}
