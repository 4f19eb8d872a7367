//go:build js

package disk

import "os"

// In a browser there is one program and no disk, so nothing has to be locked or made last.

func tryLock(*os.File) error { return nil }

func syncFolder(string) error { return nil }
