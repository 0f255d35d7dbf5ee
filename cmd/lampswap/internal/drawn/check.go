package drawn

import (
	"flag"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/longtest"
)

// Patience is how long it is worth to wait for what comes of one job: its numbers are looked at, not its time.
const Patience = 5 * time.Second

// Check looks at drawn jobs: as many as -rapid.checks asks for, else a few, or with LAMPSWAP_LONG=1 many.
func Check(t *testing.T, look func(t *rapid.T, j Job)) {
	t.Helper()
	if checks := flag.Lookup("rapid.checks"); checks.Value.String() == checks.DefValue {
		require.NoError(t, checks.Value.Set(strconv.Itoa(longtest.Pick(8, 100))))
		defer func() { require.NoError(t, checks.Value.Set(checks.DefValue)) }()
	}
	rapid.Check(t, func(t *rapid.T) { look(t, Any(t)) })
}
