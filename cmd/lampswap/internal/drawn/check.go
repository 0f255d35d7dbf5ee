package drawn

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"lampswap/photometry/longtest"
)

// Patience is how long it is worth to wait for what comes of one job: its numbers are looked at, not its time.
const Patience = 5 * time.Second

// Check looks at drawn jobs: a few, or with LAMPSWAP_LONG=1 a hundred.
func Check(t *testing.T, look func(t *rapid.T, j Job)) {
	t.Helper()
	longtest.Check(t, 5, func(t *rapid.T) { look(t, Any(t)) })
}
