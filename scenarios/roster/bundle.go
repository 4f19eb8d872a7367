package roster

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"nospark/scenarios/spelling"
)

// Limits of what is unpacked, whatever the zip says about itself.
const (
	maxEntries  = 1000     // files in a zip; a package has some 25
	maxUnpacked = 64 << 20 // bytes of one file
)

// bundle is a OneRoster package: a folder or a zip.
type bundle struct {
	name  string // path for messages
	files fs.FS
}

// file returns the path of one file for messages.
func (p *bundle) file(name string) string {
	return filepath.Join(p.name, name)
}

func readFolder(name string, opts Options) (Roster, error) {
	name = filepath.Clean(name)
	return readOneRoster(&bundle{name, os.DirFS(name)}, opts)
}

// readZip reads a package of which data are the bytes. Nothing is written to
// disk and only files with the names of the standard are unpacked, so the paths
// in the zip can lead nowhere.
func readZip(name string, data []byte, opts Options) (Roster, error) {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return Roster{}, fmt.Errorf("%s: cannot be unpacked: %w; ask for the export again", name, err)
	}
	if n := len(archive.File); n > maxEntries {
		return Roster{}, fmt.Errorf("%s: contains %d files, at most %d are allowed; is it a OneRoster package?", name, n, maxEntries)
	}
	var folders []string
	for _, f := range archive.File {
		// A workbook is a zip as well, and saving one instead of CSV a usual slip.
		if f.Name == "[Content_Types].xml" {
			return Roster{}, fmt.Errorf("%s: is a workbook or document; save the class list as CSV, UTF-8", name)
		}
		folder := path.Dir(f.Name)
		if path.Base(f.Name) == "users.csv" && !strings.HasPrefix(folder, "__MACOSX") && !slices.Contains(folders, folder) {
			folders = append(folders, folder)
		}
	}
	p := &bundle{name, archive}
	// Zipping a folder instead of its files is a usual slip.
	if len(folders) == 1 && folders[0] != "." && fs.ValidPath(folders[0]) {
		p.files, err = fs.Sub(archive, folders[0])
		if err != nil {
			return Roster{}, fmt.Errorf("%s: users.csv is in the folder %q: %w", name, folders[0], err)
		}
		p.name = filepath.Join(name, spelling.Plain(folders[0]))
	}
	return readOneRoster(p, opts)
}

// load returns the text of one file. What a zip says about the size of a file
// can be a lie, so the bytes are counted as they come.
func (p *bundle) load(name string) (string, error) {
	f, err := p.files.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return "", err
	}
	if !info.Mode().IsRegular() {
		return "", errors.New("is not a regular file")
	}
	data, err := io.ReadAll(io.LimitReader(f, maxUnpacked+1))
	if err != nil {
		return "", err
	}
	if len(data) > maxUnpacked {
		return "", fmt.Errorf("has more than %d bytes, the most such a file may have", maxUnpacked)
	}
	text, encoding, err := decode(data)
	if err != nil {
		return "", err
	}
	if encoding != "" {
		return "", fmt.Errorf("is %s, but the standard wants UTF-8; ask for the export again", encoding)
	}
	return text, nil
}

// readManifest returns the version, "1.1" or "1.2", and refuses packages that
// hold changes only: a class list made of those would lack students.
func (p *bundle) readManifest(b *builder) string {
	if !p.checkFiles(b, []string{"manifest.csv"}) {
		return ""
	}
	file := p.file("manifest.csv")
	version := ""
	for _, r := range p.readFile(b, "manifest.csv", []string{"propertyName", "value"}, nil) {
		name, value := r.cells["propertyName"], r.cells["value"]
		switch name {
		// The version decides where the roles are.
		case "oneroster.version":
			version = value
		case "file.users", "file.classes", "file.enrollments":
			if value == "delta" {
				b.fail(file, r.line, "%s holds changes only (%q); ask for a bulk export", strings.TrimPrefix(name, "file."), value)
			}
		}
	}
	switch version {
	case "1.1", "1.2":
		return version
	case "":
		b.fail(file, 0, "no oneroster.version; want 1.1 or 1.2")
	default:
		b.fail(file, 0, "oneroster.version is %q; 1.1 and 1.2 can be read", version)
	}
	return ""
}

// checkFiles names all files that are missing at once. A file that is there but
// cannot be read is left to readFile, which says why.
func (p *bundle) checkFiles(b *builder, names []string) bool {
	var missing []string
	for _, name := range names {
		if _, err := fs.Stat(p.files, name); errors.Is(err, fs.ErrNotExist) {
			missing = append(missing, name)
		}
	}
	if len(missing) == 0 {
		return true
	}
	b.fail(p.name, 0, "is no complete OneRoster package: %s missing; a class list is a CSV file or such a package",
		strings.Join(missing, ", "))
	return false
}

// readFile returns the lines of one file with the columns asked for, and no
// others. Columns are found by their headings, which the standard makes
// case-sensitive; a required one that is missing is an error, an optional one
// gives empty cells.
func (p *bundle) readFile(b *builder, name string, required, optional []string) []record {
	file := p.file(name)
	text, err := p.load(name)
	if err != nil {
		var pathErr *fs.PathError
		if errors.As(err, &pathErr) {
			err = pathErr.Err // the message names the file already
		}
		b.fail(file, 0, "%v", err)
		return nil
	}
	t, errs := parseTable(file, text, ',')
	b.errs = append(b.errs, errs...)
	if t.header == nil {
		return nil
	}
	at := map[string]int{}
	for _, column := range slices.Concat(required, optional) {
		if i := slices.Index(t.header, column); i >= 0 {
			at[column] = i
		} else if slices.Contains(required, column) {
			b.fail(file, t.line, "no column %q (case matters); there are %s", column, quoteAll(t.header))
		}
	}
	records := make([]record, len(t.rows))
	for i, row := range t.rows {
		records[i] = record{row.line, make(map[string]string, len(at))}
		for column, k := range at {
			// Cells of one line share their memory. A copy lets go of the rest of the
			// line and with it of passwords and addresses.
			records[i].cells[column] = strings.Clone(strings.TrimSpace(row.cells[k]))
		}
	}
	return records
}
