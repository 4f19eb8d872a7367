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
	"nospark/scenarios/tabular"
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

// record is one line of a OneRoster file: the columns that were asked for, by
// heading. A column that the file lacks reads as empty.
type record struct {
	line  int
	cells map[string]string
}

func openFolder(name string) *bundle {
	name = filepath.Clean(name)
	return &bundle{name, os.DirFS(name)}
}

// openZip opens a package of which data are the bytes. Nothing is written to
// disk and only files with the names of the standard are unpacked, so the paths
// in the zip can lead nowhere.
func openZip(name string, data []byte) (*bundle, error) {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be unpacked: %w; ask for the export again", name, err)
	}
	if n := len(archive.File); n > maxEntries {
		return nil, fmt.Errorf("%s: contains %d files, at most %d are allowed; is it a OneRoster package?",
			name, n, maxEntries)
	}
	var folders []string
	for _, f := range archive.File {
		// A workbook is a zip as well, and saving one instead of CSV a usual slip.
		if f.Name == "[Content_Types].xml" {
			return nil, fmt.Errorf("%s: is a workbook or document; save the class list as CSV, UTF-8", name)
		}
		folder := path.Dir(f.Name)
		users := path.Base(f.Name) == "users.csv" && !strings.HasPrefix(folder, "__MACOSX")
		if users && !slices.Contains(folders, folder) {
			folders = append(folders, folder)
		}
	}
	p := &bundle{name, archive}
	// Zipping a folder instead of its files is a usual slip.
	if len(folders) == 1 && folders[0] != "." && fs.ValidPath(folders[0]) {
		p.files, err = fs.Sub(archive, folders[0])
		if err != nil {
			return nil, fmt.Errorf("%s: users.csv is in the folder %q: %w", name, folders[0], err)
		}
		p.name = filepath.Join(name, spelling.Plain(folders[0]))
	}
	return p, nil
}

// load returns the text of one file. What a zip says about the size of a file
// can be a lie, so the bytes are counted as they come.
func (p *bundle) load(name string) ([]byte, error) {
	f, err := p.files.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("is not a regular file")
	}
	data, err := io.ReadAll(io.LimitReader(f, maxUnpacked+1))
	if err != nil {
		return nil, err
	}
	if len(data) > maxUnpacked {
		return nil, fmt.Errorf("has more than %d bytes, the most such a file may have", maxUnpacked)
	}
	return data, nil
}

// table takes one file apart. The standard leaves no choice of encoding and
// separator.
func (p *bundle) table(name string) (tabular.Table, error) {
	data, err := p.load(name)
	if err != nil {
		return tabular.Table{}, err
	}
	t, err := tabular.ReadTable(data, tabular.Options{Separator: ','})
	if err == nil && t.Encoding != "" {
		err = fmt.Errorf("is %s, but the standard wants UTF-8; ask for the export again", t.Encoding)
	}
	return t, err
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
	t, err := p.table(name)
	if err != nil {
		var pathErr *fs.PathError
		if errors.As(err, &pathErr) {
			err = pathErr.Err // the message names the file already
		}
		b.fail(file, 0, "%v", err)
		return nil
	}
	b.tell(file, t.Findings)
	header := t.Heading.Cells
	if header == nil {
		return nil
	}
	at := map[string]int{}
	for _, column := range slices.Concat(required, optional) {
		if i := slices.Index(header, column); i >= 0 {
			at[column] = i
		} else if slices.Contains(required, column) {
			b.fail(file, t.Heading.Line, "no column %q (case matters); there are %s", column, quoteAll(header))
		}
	}
	records := make([]record, len(t.Rows))
	for i, row := range t.Rows {
		records[i] = record{row.Line, make(map[string]string, len(at))}
		for column, k := range at {
			// Cells of one line share their memory. A copy lets go of the rest of the
			// line and with it of passwords and addresses.
			records[i].cells[column] = strings.Clone(row.Cells[k])
		}
	}
	return records
}
