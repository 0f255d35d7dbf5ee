//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package files

import (
	"errors"
	"os"
)

// tryLock says that the system has no advisory locks.
func tryLock(*os.File) error { return errors.ErrUnsupported }
