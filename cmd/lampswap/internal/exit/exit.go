// Package exit answers how the command ends: which errors there are, what each tells the user, and the exit code that goes with it.
package exit

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"lampswap/photometry/diag"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/lighting"
)

// Exit codes, as scripts rely on them.
const (
	Done       = iota // every criterion is met
	NotMet            // done, and one is not met
	WrongInput        // of the job, its files or the command line
	Failed            // something else
)

// ErrNotMet says that the work is done and that a criterion is not met.
var ErrNotMet = errors.New("a criterion is not met")

// A UsageError is a wrong command line.
type UsageError struct{ error }

// Usage makes an error one of the command line.
func Usage(err error) error { return UsageError{err} }

// Usagef is fmt.Errorf for an error of the command line.
func Usagef(format string, args ...any) error { return UsageError{fmt.Errorf(format, args...)} }

// Perhaps names the known word that is nearest to a wrong one, to stand behind it in a message: " (check?)"; "" if none is near.
func Perhaps(wrong string, known []string) string {
	if near := diag.Nearest(wrong, known); near != "" {
		return " (" + near + "?)"
	}
	return ""
}

// say writes an error, which may be of several lines, as it can be shown on a terminal.
func say(err error, stderr io.Writer) {
	var lines []string
	for line := range strings.SplitSeq(err.Error(), "\n") {
		lines = append(lines, diag.Visible(line))
	}
	fmt.Fprintf(stderr, "lampswap: %s\n", strings.Join(lines, "\n"))
}

// Report writes an error to the given stream and maps it to an exit code; nothing else does.
func Report(err error, stderr io.Writer) int {
	var faults diag.List
	var wrong UsageError
	var ended interface {
		error
		ExitCode() int // of work that is done, one job of many worse than others
	}
	switch {
	case err == nil:
		return Done
	case errors.Is(err, ErrNotMet):
		return NotMet
	case errors.As(err, &ended):
		return ended.ExitCode()
	case errors.As(err, &faults):
		fmt.Fprintln(stderr, faults.Error())
		return WrongInput
	case errors.As(err, &wrong):
		say(err, stderr)
		return WrongInput
	case errors.As(err, new(*interreflect.MemoryError)), errors.As(err, new(*lighting.TooLargeError)), errors.Is(err, interreflect.ErrEndless):
		say(err, stderr)
		return WrongInput
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "lampswap: interrupted, nothing written")
		return Failed
	}
	say(err, stderr)
	tellStack(err, stderr)
	return Failed
}
