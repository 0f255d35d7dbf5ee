package drawn

import (
	"flag"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// What is drawn in one test, unless -rapid.checks asks for a number of jobs: then it is those, however long they take.
const (
	shortTime = 10 * time.Second // with -short
	usualTime = 40 * time.Second
)

// Patience is how long it is worth to wait for what comes of one job: its numbers are looked at, not its time.
const Patience = 5 * time.Second

// Check looks at drawn jobs until the time is over; odd ones take seconds.
func Check(t *testing.T, look func(t *rapid.T, j Job)) {
	t.Helper()
	most := usualTime
	if testing.Short() {
		most = shortTime
	}
	if checks := flag.Lookup("rapid.checks"); checks != nil && checks.Value.String() != checks.DefValue {
		most = time.Duration(1<<63 - 1)
	}
	started := time.Now()
	rapid.Check(t, func(t *rapid.T) {
		j := Any(t)
		if time.Since(started) < most {
			look(t, j)
		}
	})
}
