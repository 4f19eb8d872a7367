package competency

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"nospark/grading/evidence"
	"nospark/scenarios/disk"
)

// Read gathers the records of the folder dir. A file that is no record, newer than this program, changed or there twice
// becomes a problem and never stops the rest. The error is for the folder itself.
func Read(dir string, o Options) (*Term, error) {
	files, err := os.ReadDir(dir) // sorted by name
	if err != nil {
		return nil, fmt.Errorf("%s: the records cannot be read: %w", dir, err)
	}
	g := newGathering(o)
	for _, f := range files {
		name := f.Name()
		if f.IsDir() || strings.HasPrefix(name, ".") || !strings.EqualFold(filepath.Ext(name), ".json") &&
			!strings.HasSuffix(name, GatheredEnd) {
			continue
		}
		data, err := disk.Read(filepath.Join(dir, name), evidence.LargestRecord)
		if err != nil {
			g.problem(name, "look at the file; it is left out", "%s", withoutPlace(err, dir))
			continue
		}
		g.add(name, data)
	}
	return g.finish(), nil
}

// withoutPlace takes the folder out of a message about one of its files.
func withoutPlace(err error, dir string) string {
	return strings.ReplaceAll(err.Error(), dir+string(filepath.Separator), "")
}

// File is a record's file in memory.
type File struct {
	Name string
	Data []byte
}

// Gather is Read for files in memory, in the order of their names.
func Gather(files []File, o Options) *Term {
	files = slices.Clone(files)
	slices.SortStableFunc(files, func(a, b File) int { return cmp.Compare(a.Name, b.Name) })
	g := newGathering(o)
	for _, f := range files {
		g.add(f.Name, f.Data)
	}
	return g.finish()
}
