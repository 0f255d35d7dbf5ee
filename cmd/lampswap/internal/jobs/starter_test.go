package jobs_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/photometry/job"
)

// commented is a line of the starter job that is left out; what stands "instead of" another stays so.
var commented = regexp.MustCompile(`(?m)^# ?((\[|[a-z_0-9]+ = ).*)$`)

// Every key that the starter job shows is a key: with all of them put in, the job is still one.
func TestStarterWithEveryKey(t *testing.T) {
	whole := commented.ReplaceAllStringFunc(jobs.Starter, func(line string) string {
		if regexp.MustCompile(`instead of`).MatchString(line) {
			return line
		}
		return commented.FindStringSubmatch(line)[1]
	})
	whole = strings.Replace(whole, "\nhours_per_year = 4000.0\n", "\n", 1) // shifts take its place
	j, err := job.Read("starter.toml", []byte(whole), nil)
	require.NoError(t, err)
	assert.NotNil(t, j.Replacement)
	assert.NotNil(t, j.Egress)
	assert.Len(t, j.Racks, 4)
	assert.Equal(t, 2288.0, j.Upkeep.HoursPerYear)
	assert.NotNil(t, j.Tariff.PeakPricePerKWh)
	assert.NotNil(t, j.Facts.North)
	assert.NotEmpty(t, j.Proposed.OutputPoints)
}
