package lines

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// maxDepth bounds how deep lists and tables lie within each other: nothing that people write needs more than a few, and the decoder is
// slow on deep texts.
const maxDepth = 20

// Slip is what keeps a text from being TOML, in words for somebody who does not know TOML.
type Slip struct {
	Line int    // from 1
	What string // with the offending value quoted
	Do   string // how to mend it; "" when What says so
}

// Error is the slip without its line.
func (s *Slip) Error() string {
	if s.Do == "" {
		return s.What
	}
	return s.What + "; " + s.Do
}

// Decode decodes a TOML text that a person wrote. The slip is nil when it is TOML. A mark at the beginning and Windows line ends are fine.
func Decode(text string) (map[string]any, *Slip) {
	if slip := plain(text); slip != nil {
		return nil, slip
	}
	if depth, line := Deepest(text); depth > maxDepth {
		return nil, &Slip{line, fmt.Sprintf("lists and tables lie %d deep within each other, at most %d are allowed", depth, maxDepth), ""}
	}
	values := map[string]any{}
	err := decode(text, &values)
	var syntax toml.ParseError
	switch {
	case err == nil:
		return values, nil
	case !errors.As(err, &syntax):
		return nil, &Slip{1, oneLine(err.Error()), ""}
	}
	all := strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n")
	line := min(max(1, syntax.Position.Line), len(all))
	for line > 1 && strings.TrimSpace(all[line-1]) == "" { // found missing at a line end, told for the next line
		line--
	}
	if line > 1 && strings.Contains(syntax.Message, "name") && unclosed(all[line-2]) {
		line--
	}
	what, do := explain(strings.TrimSpace(all[line-1]), oneLine(syntax.Message))
	return nil, &Slip{line, what, do}
}

// decode turns the panics with which the decoder meets some broken texts into errors: the text is the user's, not our bug.
func decode(text string, into *map[string]any) (err error) {
	defer func() {
		if recover() != nil {
			err = errors.New("the file is not TOML")
		}
	}()
	_, err = toml.Decode(text, into)
	return err
}

// plain finds what a text editor or a word processor has saved in its own way.
func plain(text string) *Slip {
	if strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff") || strings.IndexByte(text, 0) >= 0 {
		return &Slip{1, "the file is not UTF-8 text", "save the file as plain text, UTF-8"}
	}
	line := 1
	for at, r := range text {
		switch {
		case r == '\n':
			line++
		case r == utf8.RuneError && !strings.HasPrefix(text[at:], "\ufffd"):
			return &Slip{line, fmt.Sprintf("the file is not UTF-8 text: byte 0x%02x", text[at]), "save the file as UTF-8"}
		case r == '\r' && !strings.HasPrefix(text[at+1:], "\n"):
			return &Slip{line, "a line ends as on old computers, with a carriage return alone", "save the file with Windows or Unix line ends"}
		}
	}
	return nil
}

// oneLine keeps a message of the decoder on one line, without the decoder's name.
func oneLine(message string) string {
	return strings.TrimSuffix(strings.Join(strings.Fields(strings.TrimPrefix(message, "toml: ")), " "), ".")
}

// unclosed recognises a heading without its closing bracket.
func unclosed(source string) bool {
	source = strings.TrimSpace(source)
	return strings.HasPrefix(source, "[") && strings.Count(source, "[") > strings.Count(source, "]") && !strings.ContainsAny(source, `,"'{`)
}

// curly are the quotes of word processors.
var curly = strings.NewReplacer("“", `"`, "”", `"`, "„", `"`, "‟", `"`, "«", `"`, "»", `"`, "‘", "'", "’", "'", "‚", "'")

// explain finds the likely slip in a line that the decoder refuses. What it does not know it tells in the decoder's words.
func explain(source, message string) (what, do string) {
	key, value, pair := strings.Cut(source, "=")
	key, value = strings.TrimSpace(key), strings.TrimSpace(value)
	escape := strings.Contains(message, "invalid escape") || strings.Contains(message, "hexadecimal digits")
	switch {
	case strings.Contains(message, "already been defined"):
		return strings.ToLower(message[:1]) + message[1:], "keep one of the two"
	case strings.Contains(message, "cannot be used as an array"):
		return strings.ToLower(message[:1]) + message[1:], "write [[...]] with two brackets each time"
	case curly.Replace(source) != source && !strings.ContainsAny(value, `"'`):
		return "curly quotes in " + show(source), "write straight ones, as in " + show(curly.Replace(source))
	case escape:
		return "a backslash within quotes in " + show(source), `write / instead, or \\ for a real backslash`
	case strings.Contains(message, "strings cannot contain newlines"), strings.Contains(message, "unexpected EOF; expected '\"'"):
		return "a quote is not closed in " + show(source), "end the text with the quote that begins it"
	case strings.Contains(message, "expected a comma"):
		return "a list or table is not closed before " + show(source), "end it with ] or }, and part its items by commas"
	case strings.HasPrefix(source, "[") && strings.Contains(message, "name"):
		return show(source) + " is no heading", "write [name] or [[name]] on a line of its own"
	case !pair && strings.HasPrefix(message, "expected value"):
		return show(source) + " is not a value", "put texts in quotes"
	case !pair && source != "":
		return show(source) + " has no = sign", "write key = value, or begin a note with #"
	case !pair:
		return message, ""
	}
	return explainValue(key, value, message)
}

// explainValue looks at what follows the = sign.
func explainValue(key, value, message string) (what, do string) {
	if value == "" || value[0] == '#' {
		return "nothing follows " + key + " =", "write a value, or put # before the line"
	}
	if value[0] == '"' || value[0] == '\'' {
		if strings.HasPrefix(message, "expected a top-level item") {
			return "something follows the closing quote of " + key + " = " + show(value), `put all of it in one pair of quotes; a quote inside is written \"`
		}
		return message, ""
	}
	word, _, _ := strings.Cut(value, "#")
	word = strings.TrimSpace(word)
	what = key + " = " + clip(word)
	letter := word[0] >= 'a' && word[0] <= 'z' || word[0] >= 'A' && word[0] <= 'Z' || word[0] >= utf8.RuneSelf
	digits := strings.Trim(word, "0123456789") == ""
	switch {
	case strings.Trim(word, "0123456789./-") == "" && len(strings.FieldsFunc(word, notDigit)) == 3:
		return what + ": want a day that exists", "write year, month and day: 2026-10-05"
	case strings.Contains(" yes no on off true false ", " "+strings.ToLower(word)+" "):
		return what + ": want true or false", "write it in small letters without quotes"
	case strings.Count(word, ",") == 1 && strings.Trim(word, "0123456789,") == "":
		return what + ": a comma in a number", "write " + strings.Replace(word, ",", ".", 1)
	case digits && word[0] == '0':
		return what + ": a number cannot begin with 0", fmt.Sprintf("write it in quotes: %q", word)
	case letter:
		return what + ": text is not in quotes", fmt.Sprintf("write %s = %q", key, clip(word))
	}
	return message, ""
}

func notDigit(r rune) bool { return r < '0' || r > '9' }

// show quotes a piece of a line for a message, shortened. Quotes within it stay as they were typed.
func show(text string) string { return "`" + clip(text) + "`" }

// clip shortens what is quoted in a message.
func clip(text string) string {
	const most = 50
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "..."
}
