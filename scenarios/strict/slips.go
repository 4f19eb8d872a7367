package strict

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// inOneLine keeps a message of the decoder on one line, without the decoder's name.
func inOneLine(message string) string {
	return strings.TrimSuffix(strings.Join(strings.Fields(strings.TrimPrefix(message, "toml: ")), " "), ".")
}

// unclosedHeading recognizes a heading without its closing bracket.
func unclosedHeading(source string) bool {
	source = strings.TrimSpace(source)
	return strings.HasPrefix(source, "[") && !strings.ContainsAny(source, `,"'{`) &&
		strings.Count(source, "[") > strings.Count(source, "]")
}

// maxQuoted is the greatest number of characters of a line that a message quotes.
const maxQuoted = 50

// curly are the quotes of word processors.
var curly = strings.NewReplacer("“", `"`, "”", `"`, "„", `"`, "‟", `"`, "«", `"`, "»", `"`, "‘", "'", "’", "'", "‚",
	"'")

// explain finds the likely slip in a line that the decoder refuses. What it does not know it tells in the decoder's
// words.
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
		return "curly quotes in " + quoted(source), "write straight ones, as in " + quoted(curly.Replace(source))
	case escape:
		return "a backslash within quotes in " + quoted(source), `write / instead, or \\ for a real backslash`
	case strings.Contains(message, "strings cannot contain newlines"),
		strings.Contains(message, "unexpected EOF; expected '\"'"):
		return "a quote is not closed in " + quoted(source), "end the text with the quote that begins it"
	case strings.Contains(message, "expected a comma"):
		return "a list or table is not closed before " + quoted(source),
			"end it with ] or }, and part its items by commas"
	case strings.HasPrefix(source, "[") && strings.Contains(message, "name"):
		return quoted(source) + " is no heading", "write [name] or [[name]] on a line of its own"
	case !pair && strings.HasPrefix(message, "expected value"):
		return quoted(source) + " is not a value", "put texts in quotes"
	case !pair && source != "":
		return quoted(source) + " has no = sign", "write key = value, or begin a note with #"
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
			return "something follows the closing quote of " + key + " = " + quoted(value),
				`put all of it in one pair of quotes; a quote inside is written \"`
		}
		return message, ""
	}
	word, _, _ := strings.Cut(value, "#")
	word = strings.TrimSpace(word)
	what = key + " = " + clip(word, maxQuoted)
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
		return what + ": text is not in quotes", fmt.Sprintf("write %s = %q", key, clip(word, maxQuoted))
	}
	return message, ""
}

func notDigit(r rune) bool { return r < '0' || r > '9' }

// quoted quotes a piece of a line for a message, shortened. Quotes within it stay as they were typed.
func quoted(text string) string { return "`" + clip(text, maxQuoted) + "`" }
