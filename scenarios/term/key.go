package term

import (
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime"

	"nospark/scenarios/disk"
)

// KeySize is the length of a term's key in bytes.
const KeySize = 32

// Key is the secret of a term. Everything hidden in its labs is derived from it; whoever has it has the answers.
type Key [KeySize]byte

// secret is all that is ever shown of a key.
const secret = "(secret)"

// Format keeps the key out of messages, whatever verb they use.
func (Key) Format(f fmt.State, _ rune) { io.WriteString(f, secret) }

// MarshalText keeps the key out of JSON and the like.
func (Key) MarshalText() ([]byte, error) { return []byte(secret), nil }

// NewKey draws a key; random is crypto/rand.Reader outside tests.
func NewKey(random io.Reader) (Key, error) {
	var k Key
	if _, err := io.ReadFull(random, k[:]); err != nil {
		return Key{}, fmt.Errorf("no random numbers for the key of the term: %w", err)
	}
	return k, nil
}

// NewTermID draws the id of a term, twelve hexadecimal digits.
func NewTermID(random io.Reader) (string, error) {
	var b [6]byte
	if _, err := io.ReadFull(random, b[:]); err != nil {
		return "", fmt.Errorf("no random numbers for the id of the term: %w", err)
	}
	return hex.EncodeToString(b[:]), nil
}

// WriteKey stores a new key at path, for its owner only. It never replaces one.
func WriteKey(path string, k Key) error {
	return disk.WriteNew(path, k[:], 0o600)
}

// ReadKey reads the key at path. It refuses a key that other users of the machine can read, and anything that is not a
// key; none of its errors shows what is in the file.
func ReadKey(path string) (Key, error) {
	info, err := os.Stat(path)
	if err != nil {
		if os.IsNotExist(err) {
			return Key{}, fmt.Errorf("%s: the key of the term is missing; restore it from a copy, without it no "+
				"sheet can be built or checked", path)
		}
		return Key{}, err
	}
	if err := checkPrivate(path, info.Mode(), runtime.GOOS); err != nil {
		return Key{}, err
	}
	data, err := disk.Read(path, 1<<16)
	if err != nil {
		return Key{}, err
	}
	if len(data) != KeySize {
		return Key{}, fmt.Errorf("%s: has %d bytes, a key has %d; restore it from a copy", path, len(data), KeySize)
	}
	return Key(data), nil
}

// checkPrivate looks at the permissions where the system has them.
func checkPrivate(path string, mode fs.FileMode, system string) error {
	if system == "windows" || mode.Perm()&0o077 == 0 {
		return nil
	}
	return fmt.Errorf("%s: other users can read the key (mode %04o) and with it every answer; run: chmod 600 %q", path,
		mode.Perm(), path)
}
