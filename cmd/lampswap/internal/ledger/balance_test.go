package ledger_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

func TestBalanceInWords(t *testing.T) {
	r := study.Lit(&job.Job{}, lighting.System{Balance: &interreflect.Balance{Emitted: 67000, Absorbed: 66933, Bounces: 9}})
	assert.Equal(t, []string{"existing: emitted 67,000 lm, absorbed by the surfaces 66,933 lm (0.10 percent less), 9 bounces followed"}, ledger.Balance(r), "no light bounces after")
	assert.Empty(t, ledger.Balance(study.Lit(&job.Job{})))
}
