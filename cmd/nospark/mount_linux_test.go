package main

import (
	"fmt"
	"syscall"
)

// mount puts an empty disk of some bytes in memory at a folder; it needs root.
func mount(dir string, size int) error {
	return syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d", size))
}

// remount changes the size of the disk and keeps what is on it.
func remount(dir string, size int) error {
	return syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT, fmt.Sprintf("size=%d", size))
}

func unmount(dir string) { syscall.Unmount(dir, syscall.MNT_DETACH) }
