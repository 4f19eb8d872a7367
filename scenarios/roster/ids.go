package roster

import (
	"fmt"
	"slices"
	"strings"

	"nospark/scenarios/spelling"
)

// FoldID makes ids comparable that differ in case or spaces.
func FoldID(id string) string { return strings.ToUpper(strings.Join(strings.Fields(id), "")) }

// BareID also takes off the leading zeros of a number, which spreadsheets lose.
func BareID(id string) string {
	id = FoldID(id)
	if id == "" || strings.Trim(id, "0123456789") != "" {
		return id
	}
	return strings.TrimLeft(id, "0") + "#" // no other id ends like this
}

// SameIDs recognizes ids that are known with more or fewer leading zeros: a spreadsheet takes them, and somebody who
// was keyed in by hand gets them with the next export. It returns the known id of each of these. Ids that stand in one
// list with and without zeros are two people, and none of them is meant by another.
func SameIDs(ids, known []string) map[string]string {
	here, there := byBare(ids), byBare(known)
	meant := map[string]string{}
	for bare, all := range here {
		if k := there[bare]; len(all) == 1 && len(k) == 1 && k[0] != all[0] && FoldID(k[0]) != FoldID(all[0]) {
			meant[all[0]] = k[0]
		}
	}
	return meant
}

// byBare lists the different ids that are the same without leading zeros.
func byBare(ids []string) map[string][]string {
	list := map[string][]string{}
	for _, id := range ids {
		if bare := BareID(id); !slices.Contains(list[bare], id) {
			list[bare] = append(list[bare], id)
		}
	}
	return list
}

// AskID is the end of a message about an id that is not known: the one that it is but for leading zeros, or else the
// nearest.
func AskID(id string, known []string) string {
	if meant, ok := SameIDs([]string{id}, known)[id]; ok {
		return fmt.Sprintf("; did you mean %q?", meant)
	}
	return spelling.Ask(id, known)
}

// SameName tells whether two names can be one person's: capitals and blanks make no difference, and an empty name can
// be anybody's.
func SameName(a, b string) bool {
	fold := func(name string) string { return strings.Join(strings.Fields(name), " ") }
	return fold(a) == "" || fold(b) == "" || strings.EqualFold(fold(a), fold(b))
}
