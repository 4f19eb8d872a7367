package lists

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"nospark/scenarios/term"
)

// AwardsSeal is the file beside the register that says where it ends: lines cut off there leave a chain that is sound.
const AwardsSeal = "awards.seal"

// SealOf is what stands in AwardsSeal for a register: the number of its lines and a keyed hash of the last. Whoever
// puts an older register back together with its older seal is not noticed; the number of awards that is printed is for
// that.
func SealOf(list []Award, key term.Key) string {
	last := ""
	if n := len(list); n > 0 {
		last = list[n-1].Hash
	}
	own := hmac.New(sha256.New, key[:])
	own.Write([]byte("end of awards"))
	mac := hmac.New(sha256.New, own.Sum(nil))
	fmt.Fprintf(mac, "%d %s", len(list), last)
	return fmt.Sprintf("%d %s\n", len(list), hex.EncodeToString(mac.Sum(nil)))
}

// CheckEnd compares a register with its seal: one line, or two while lines are being added, of which either fits.
func CheckEnd(file string, list []Award, seal string, key term.Key) error {
	lines := strings.Split(strings.TrimSpace(seal), "\n")
	for _, line := range lines[:min(len(lines), 2)] {
		if hmac.Equal([]byte(line+"\n"), []byte(SealOf(list, key))) {
			return nil
		}
	}
	count, _, _ := strings.Cut(lines[0], " ")
	return fmt.Errorf("%s: has %d lines, and %s is of %q; lines were cut off at the end, or one of the files was "+
		"exchanged: restore both from a copy", file, len(list), AwardsSeal, count)
}
