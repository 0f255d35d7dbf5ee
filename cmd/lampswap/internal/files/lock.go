//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package files

import (
	"errors"
	"os"
	"syscall"
)

// Lock keeps two runs from writing one journal. The lock goes with the process, however it ends.
func Lock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errors.New("another run writes it")
	}
	return nil // some shared file systems know no locks
}
