//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package files

import (
	"errors"
	"os"
	"syscall"
)

// tryLock takes the lock of a file, which goes with the process, however it ends. It is errHeld where another has it; another error is that
// the file system knows no locks, as some shared ones do.
func tryLock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errHeld
	}
	return err
}
