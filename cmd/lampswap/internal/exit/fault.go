package exit

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"

	"lampswap/cmd/lampswap/internal/build"
)

// A fault is one of lampswap itself, which no input should bring about.
type fault struct {
	value any
	stack []byte
}

// NewFault makes an error of what a panic brought up, with where it came from.
func NewFault(value any, stack []byte) error {
	if p, ok := value.(interface{ Origin() (any, []byte) }); ok { // of a goroutine that others waited for
		value, stack = p.Origin()
	}
	return &fault{value, stack}
}

// Error says what to do; the stack is told apart.
func (e *fault) Error() string {
	return fmt.Sprintf("a fault of lampswap itself: %.500s; please report it with the job's files, this message and the version (%s)", fmt.Sprint(e.value), build.Version())
}

// Caught is a function whose panic becomes an error: for a goroutine of its own, whose panic nobody else could catch, and for work that must
// not take other work along.
func Caught(work func() error) func() error {
	return func() (err error) {
		defer func() {
			if value := recover(); value != nil {
				err = NewFault(value, debug.Stack())
			}
		}()
		return work()
	}
}

// Catch is deferred: it turns a panic into a message that can be reported, and exit code 3.
func Catch(stderr io.Writer, code *int) {
	if value := recover(); value != nil {
		*code = Report(NewFault(value, debug.Stack()), stderr)
	}
}

// tellStack writes where a fault of lampswap itself came from.
func tellStack(err error, stderr io.Writer) {
	if own, ok := errors.AsType[*fault](err); ok {
		fmt.Fprintf(stderr, "%s\n", own.stack)
	}
}
