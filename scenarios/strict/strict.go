// Package strict reads TOML files that people write: plans, terms, corrections and packs. Nothing is passed over in
// silence. Every key that nobody asked for, every value of the wrong kind and every slip in the writing becomes a
// finding with its line, and one run shows all of them.
//
// Start at Read, which gives the top table of a file. The readers of Table take keys out of it (Text, Whole, Minutes,
// Texts, Tables ...), Finish complains of the keys that are left over, and Err of the table's Findings gives everything
// found as one error. The package knows nothing of what the files mean, and it is no TOML parser: BurntSushi's decoder
// reads the values, positions.go adds their lines.
package strict

// MaxBytes is the greatest size of a file: far more than a person writes, and read in no time.
const MaxBytes = 1 << 20

// Read decodes a file and gives its top table. The error is a *Problems and says why the text is no TOML, or that there
// is too much of it.
func Read(file string, text []byte) (*Table, error) {
	found := &Findings{File: file, reported: map[Finding]bool{}}
	if len(text) > MaxBytes {
		found.Fail(1, "", "the file has %d bytes, at most %d are allowed", len(text), MaxBytes)
		return nil, found.Err()
	}
	values, slip := decode(string(text))
	if slip != nil {
		found.Fail(slip.Line, slip.Do, "%s", slip.What)
		return nil, found.Err()
	}
	return &Table{Found: found, values: values, at: locate(string(text))}, nil
}
