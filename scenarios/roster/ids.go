package roster

import "strings"

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

// LostZeros recognizes a file whose numbers have lost their leading zeros: none of its ids has one, and ids that
// are not known are known with them. It returns the known id of each of these; a number that could be two of them
// is none.
func LostZeros(ids, known []string) map[string]string {
	byBare := map[string]string{}
	exact := map[string]bool{}
	for _, k := range known {
		exact[k] = true
		if other, twice := byBare[BareID(k)]; twice && other != k {
			byBare[BareID(k)] = ""
		} else {
			byBare[BareID(k)] = k
		}
	}
	meant := map[string]string{}
	for _, id := range ids {
		if strings.HasPrefix(id, "0") && len(id) > 1 {
			return nil
		}
		if k := byBare[BareID(id)]; !exact[id] && strings.HasPrefix(k, "0") {
			meant[id] = k
		}
	}
	return meant
}
