package jobs

import (
	"context"
	"io"
	"os"
	"time"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/job"
)

// readAll reads standard input, a little more than a job may have at most, until the context ends.
func readAll(ctx context.Context, stdin io.Reader) ([]byte, error) {
	var text []byte
	done := make(chan error, 1)
	go func() { // ends with the process at the latest: nothing else can end the wait for a person who types
		done <- exit.Caught(func() (err error) {
			text, err = io.ReadAll(io.LimitReader(stdin, job.MaxBytes+1))
			return err
		})()
	}()
	select {
	case err := <-done:
		return text, err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// pipeWait is how long a pipe may take until something is in it: what feeds it has just been started too.
const pipeWait = 50 * time.Millisecond

// waits tells whether somebody has put something on standard input: a file that is not empty, or a pipe that holds something. A terminal waits
// for nobody, and of what is no file nothing is known.
func waits(stdin io.Reader) bool {
	f, isFile := stdin.(*os.File)
	if !isFile {
		return false
	}
	info, err := f.Stat()
	switch {
	case err != nil:
		return false
	case info.Mode().IsRegular():
		at, err := f.Seek(0, io.SeekCurrent)
		return err == nil && at < info.Size()
	case info.Mode()&os.ModeNamedPipe != 0:
		return holds(f, pipeWait)
	}
	return false
}
