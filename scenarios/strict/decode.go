package strict

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// maxDepth bounds how deep lists and tables lie within each other: nothing that people write needs more than a few, and
// the decoder is slow on deep texts.
const maxDepth = 20

// decode decodes a TOML text that a person wrote, or finds the slip that keeps it from being TOML, in words for
// somebody who does not know TOML. A mark at the beginning and Windows line ends are fine.
func decode(text string) (map[string]any, *Finding) {
	if slip := plain(text); slip != nil {
		return nil, slip
	}
	if depth, line := depthOf(text); depth > maxDepth {
		return nil, slipAt(line, fmt.Sprintf("lists and tables lie %d deep within each other, at most %d are allowed",
			depth, maxDepth), "")
	}
	values := map[string]any{}
	err := unpanicked(text, &values)
	var syntax toml.ParseError
	switch {
	case err == nil:
		return values, nil
	case !errors.As(err, &syntax):
		return nil, slipAt(1, inOneLine(err.Error()), "")
	}
	all := strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n")
	line := min(max(1, syntax.Position.Line), len(all))
	for line > 1 && strings.TrimSpace(all[line-1]) == "" { // found missing at a line end, told for the next line
		line--
	}
	if line > 1 && strings.Contains(syntax.Message, "name") && unclosedHeading(all[line-2]) {
		line--
	}
	what, do := explain(strings.TrimSpace(all[line-1]), inOneLine(syntax.Message))
	return nil, slipAt(line, what, do)
}

// slipAt is an error that stands alone: nothing else can be said of a text that is not TOML.
func slipAt(line int, what, do string) *Finding {
	return &Finding{Line: line, Severity: Error, What: what, Do: do}
}

// unpanicked turns the panics with which the decoder meets some broken texts into errors: the text is the user's, not
// our bug.
func unpanicked(text string, into *map[string]any) (err error) {
	defer func() {
		if recover() != nil {
			err = errors.New("the file is not TOML")
		}
	}()
	_, err = toml.Decode(text, into)
	return err
}

// plain finds what a text editor or a word processor has saved in its own way.
func plain(text string) *Finding {
	if strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff") || strings.IndexByte(text, 0) >= 0 {
		return slipAt(1, "the file is not UTF-8 text", "save the file as plain text, UTF-8")
	}
	line := 1
	for at, r := range text {
		switch {
		case r == '\n':
			line++
		case r == utf8.RuneError && !strings.HasPrefix(text[at:], "\ufffd"):
			return slipAt(line, fmt.Sprintf("the file is not UTF-8 text: byte 0x%02x", text[at]),
				"save the file as UTF-8")
		case r == '\r' && !strings.HasPrefix(text[at+1:], "\n"):
			return slipAt(line, "a line ends as on old computers, with a carriage return alone",
				"save the file with Windows or Unix line ends")
		}
	}
	return nil
}
