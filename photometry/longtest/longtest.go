// Package longtest tells the tests of all rooms how much time they have: little where somebody waits for `go test ./...`, much with
// LAMPSWAP_LONG=1, as in CI.
package longtest

import (
	"os"
	"testing"
)

// On tells that tests may take their time.
func On() bool {
	return os.Getenv("LAMPSWAP_LONG") == "1" //nolint:forbidigo // tests alone ask
}

// Pick returns how much of something to try: draws, rooms, samples.
func Pick[T any](quick, long T) T {
	if On() {
		return long
	}
	return quick
}

// Only skips a test that nobody should have to wait for, and says what it would do.
func Only(tb testing.TB, what string) {
	tb.Helper()
	if !On() {
		tb.Skip("with LAMPSWAP_LONG=1: " + what)
	}
}
