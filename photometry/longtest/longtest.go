// Package longtest tells the tests of all rooms how much time they have: little where somebody waits for `go test ./...`, much with
// LAMPSWAP_LONG=1, as in CI.
package longtest

import (
	"flag"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// On tells that tests may take their time.
func On() bool {
	return os.Getenv("LAMPSWAP_LONG") == "1" //nolint:forbidigo // tests alone ask
}

// Pick returns how much of something to try: rooms, samples, steps.
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

// Check is rapid.Check of a property that takes long: quick times, or rapid's hundred; or as often as -rapid.checks asks for. Tests that do so
// do not run beside each other.
func Check(t *testing.T, quick int, property func(*rapid.T)) {
	t.Helper()
	if checks := flag.Lookup("rapid.checks"); !On() && checks.Value.String() == checks.DefValue {
		if err := checks.Value.Set(strconv.Itoa(quick)); err != nil {
			t.Fatal(err)
		}
		defer func() { _ = checks.Value.Set(checks.DefValue) }() // it was that
	}
	rapid.Check(t, property)
}
