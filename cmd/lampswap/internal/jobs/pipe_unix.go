//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package jobs

import (
	"os"
	"time"

	"golang.org/x/sys/unix"
)

// holds tells whether there is something to read in a pipe, at the latest after a while. Nothing of it is read.
func holds(pipe *os.File, within time.Duration) bool {
	polled := []unix.PollFd{{Fd: int32(pipe.Fd()), Events: unix.POLLIN}}
	n, err := unix.Poll(polled, int(within.Milliseconds()))
	return err == nil && n > 0 && polled[0].Revents&unix.POLLIN != 0
}
