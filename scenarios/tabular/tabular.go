// Package tabular reads what spreadsheets call CSV: text whose lines are rows
// of cells, in any of the encodings, separators and line ends that people's
// programs write.
//
// Start at [Read], which gives rows as a spreadsheet shows them, or at
// [ReadTable], for files whose first row names the columns. Both keep all that
// can be kept and tell the rest as findings with their line; whether a finding
// stops the caller is for the caller to decide. [Fold] compares headings,
// [Neutralize] writes text that no spreadsheet calculates and reading takes the
// protection off again.
//
// The package knows nothing of students, labs or marks. Files that have to keep
// their bytes (an instructor's gradebook) are no business of this package.
package tabular

// Read takes a text apart. The error is for data that is no text at all.
//
// Where a quote is never closed it is taken as a plain character, so that it
// swallows no row; the finding names the line where it opened.
func Read(data []byte, opts Options) (Text, error) {
	text, encoding, err := decode(data)
	if err != nil {
		return Text{}, err
	}
	said, text := sayings(text)
	separator := opts.Separator
	if separator == 0 {
		separator = said
	}
	if separator == 0 {
		separator = suggested(text, opts.Known)
	}
	t := split(text, separator, opts)
	t.Encoding, t.separator = encoding, separator
	return t, nil
}
