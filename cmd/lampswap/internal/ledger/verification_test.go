package ledger

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestLikely(t *testing.T) {
	for p, want := range map[float64]string{0: "under 0.1 %", 0.0009: "under 0.1 %", 0.002: "0.2 %", 0.05: "5 %", 0.5: "50 %", 0.985: "98 %", 0.996: "99.6 %",
		0.9995: "over 99.9 %", 1: "over 99.9 %"} {
		assert.Equal(t, want, Likely(p), "%v", p)
	}
}
