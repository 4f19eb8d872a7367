//go:build unix

package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// tryLock takes the lock or returns errHeld. The system drops the lock when
// the file is closed, so no crash leaves one behind.
func tryLock(f *os.File) error {
	for {
		err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
		switch {
		case errors.Is(err, unix.EINTR):
			continue
		case errors.Is(err, unix.EWOULDBLOCK):
			return errHeld
		}
		return err
	}
}

// syncFolder makes a rename inside dir last. File systems that cannot sync a
// folder (some network drives) say EINVAL; there is nothing better to do then.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, unix.EINVAL) {
		return err
	}
	return nil
}
