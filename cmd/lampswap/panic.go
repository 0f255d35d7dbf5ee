package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"
)

// A panicError is a fault of lampswap itself, which no input should bring about.
type panicError struct {
	value any
	stack []byte
}

func newPanicError(value any, stack []byte) *panicError {
	if p, ok := value.(interface{ Origin() (any, []byte) }); ok { // of a goroutine that others waited for
		value, stack = p.Origin()
	}
	return &panicError{value, stack}
}

// Error says what to do; the stack is told apart.
func (e *panicError) Error() string {
	return fmt.Sprintf("a fault of lampswap itself: %.500s; please report it with the job's files, this message and the version (%s)", fmt.Sprint(e.value), version())
}

// catchPanic turns a panic into a message that can be reported, and exit code 3.
func catchPanic(stderr io.Writer, code *int) {
	if value := recover(); value != nil {
		*code = report(newPanicError(value, debug.Stack()), stderr)
	}
}

// tellStack writes where a fault of lampswap itself came from.
func tellStack(err error, stderr io.Writer) {
	if fault, ok := errors.AsType[*panicError](err); ok {
		fmt.Fprintf(stderr, "%s\n", fault.stack)
	}
}
