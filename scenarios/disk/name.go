package disk

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxName is the greatest length in bytes of a name that [CheckName] lets
// pass: three of them with their dashes and an ending fit into the 255 bytes
// that file systems allow.
const MaxName = 80

// forbidden are the characters that some system gives a meaning in paths.
// "%" is kept for [EscapeName].
const forbidden = `/\:*?"<>|%`

// reserved are names that Windows gives to devices, with any ending
// (Microsoft, "Naming Files, Paths, and Namespaces").
const reserved = " con prn aux nul com0 com1 com2 com3 com4 com5 com6 com7 com8 com9 com\u00b9 com\u00b2 com\u00b3" +
	" lpt0 lpt1 lpt2 lpt3 lpt4 lpt5 lpt6 lpt7 lpt8 lpt9 lpt\u00b9 lpt\u00b2 lpt\u00b3 conin$ conout$ "

// CheckName says whether name, the name of a lab or a student's id, can be part
// of a file's name on every system without leading elsewhere or looking like
// something it is not. The error says what is wrong and quotes the name, but
// not where it came from: the caller adds that.
func CheckName(name string) error {
	switch {
	case name == "":
		return errors.New("the name is empty")
	case len(name) > MaxName:
		return fmt.Errorf("name %q... has %d bytes, at most %d are allowed", name[:20], len(name), MaxName)
	case !utf8.ValidString(name):
		return fmt.Errorf("name %q is not valid UTF-8", name)
	}
	for _, r := range name {
		if !printable(r) {
			return fmt.Errorf("name %q contains the invisible character %U; use letters, digits, '-', '_' and '.'",
				name, r)
		}
		if strings.ContainsRune(forbidden, r) {
			return fmt.Errorf("name %q contains %q, which file names cannot have; use letters, digits, '-', '_' and '.'",
				name, r)
		}
	}
	switch {
	case strings.HasPrefix(name, "."):
		return fmt.Errorf("name %q begins with '.', which hides files or leads out of the folder", name)
	case strings.HasPrefix(name, "-"):
		return fmt.Errorf("name %q begins with '-', which looks like an option", name)
	case name != strings.TrimSpace(name):
		return fmt.Errorf("name %q begins or ends with a space", name)
	case strings.HasSuffix(name, "."):
		return fmt.Errorf("name %q ends with '.', which Windows drops", name)
	case isReserved(name):
		return fmt.Errorf("name %q is the name of a device on Windows", name)
	}
	return nil
}

// printable refuses control characters, line breaks, other spaces than the plain
// one and the invisible marks that turn the direction of text.
func printable(r rune) bool {
	return unicode.IsPrint(r) && r != utf8.RuneError
}

func isReserved(name string) bool {
	stem, _, _ := strings.Cut(strings.ToLower(name), ".")
	stem = strings.TrimSpace(stem)
	return stem != "" && !strings.Contains(stem, " ") && strings.Contains(reserved, " "+stem+" ")
}

// EscapeName makes any text, such as the title of a section ("MW 8:00"), part
// of a file's name. Bytes that [CheckName] refuses become % and two hexadecimal
// digits, so different texts get different names. The empty text becomes "%".
// The result of a long text can be too long for a file system.
func EscapeName(text string) string {
	if text == "" {
		return "%"
	}
	var b strings.Builder
	device := isReserved(text)
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		first, last := i == 0, i+size == len(text)
		bad := !printable(r) || strings.ContainsRune(forbidden, r) ||
			first && (r == '.' || r == '-' || r == ' ' || device) || last && (r == '.' || r == ' ')
		for _, c := range []byte(text[i : i+size]) {
			if bad {
				fmt.Fprintf(&b, "%%%02X", c)
			} else {
				b.WriteByte(c)
			}
		}
		i += size
	}
	return b.String()
}

// ShowName is the name of a file as it may stand in a message: what would move
// the cursor, break the line or turn the direction of text stands as \u202e.
func ShowName(name string) string {
	harmless := func(r rune) bool { return printable(r) || unicode.Is(unicode.Zs, r) }
	if !strings.ContainsFunc(name, func(r rune) bool { return !harmless(r) }) {
		return name
	}
	var b strings.Builder
	for _, r := range name {
		switch {
		case harmless(r):
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	return b.String()
}
