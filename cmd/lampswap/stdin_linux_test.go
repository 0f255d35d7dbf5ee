package main

import (
	"os"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// redirected makes a file what the process has as its standard input, until the function that it returns is called.
func redirected(t *testing.T, f *os.File) func() {
	t.Helper()
	was, err := syscall.Dup(0)
	require.NoError(t, err)
	require.NoError(t, syscall.Dup3(int(f.Fd()), 0, 0))
	return func() {
		require.NoError(t, syscall.Dup3(was, 0, 0))
		require.NoError(t, syscall.Close(was))
	}
}
