package display

import (
	"context"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/study"
)

func beside(name string) ([]byte, error) { return jobs.Demo.ReadFile("demo/" + name) }

// tubeOf is an LED tube on the line among the lamps that can be tried in the place of a lamp on a ballast.
func tubeOf(t *testing.T, j *job.Job) string {
	t.Helper()
	var onLine []string
	for _, name := range tryLamps(j.Proposed) {
		if lamp, ok := catalog.FindLamp(name); ok && lamp.LEDType == catalog.OnLine {
			onLine = append(onLine, name)
		}
	}
	require.NotEmpty(t, onLine)
	return onLine[0]
}

// What is tried by scaling is what the whole work gives, for a photometric file and, with another lamp, for a computed fixture.
func TestTriesExactly(t *testing.T) {
	quick, err := os.ReadFile("../testdata/quick.toml")
	require.NoError(t, err)
	smallRoom := string(quick)
	computed := strings.NewReplacer(`photometry = "strip-4x4ft-t8.ies"`, `fixture = "strip-4in"`, "lamps = 4\nballast = \"is-normal\"", "lamps = 2\nballast = \"is-normal\"").Replace(smallRoom)
	light := lighting.NewCache(1 << 20)
	work := func(ctx context.Context, j *job.Job) (*study.Result, error) { return study.RunWith(ctx, j, light) }
	for what, text := range map[string]string{"file": smallRoom, "bounces": strings.Replace(smallRoom, "interreflection = false", "interreflection = true", 1), "fixture": computed} {
		base, err := job.Read("quick.toml", []byte(text), beside)
		require.NoError(t, err)
		result, err := study.Run(t.Context(), base, nil)
		require.NoError(t, err, what)
		for name, try := range map[string]Tried{
			"factor": {factor: 0.7, months: 24, lamp: "F32T8/800"}, "months": {factor: base.Proposed.BallastFactor, months: 6, lamp: "F32T8/800"},
			"lamp": {factor: base.Proposed.BallastFactor, months: 24, lamp: "F32T8/700"},
			"tube": {factor: base.Proposed.BallastFactor, months: 24, lamp: tubeOf(t, base)}} {
			changed, err := try.Text(text, base)
			require.NoError(t, err)
			got, err := TryText(t.Context(), Work{job.Read, work, time.Minute}, "quick.toml", changed, beside, result)
			require.NoError(t, err)
			require.Empty(t, got.fault)
			j, err := job.Read("quick.toml", []byte(changed), beside)
			require.NoError(t, err)
			want, err := study.Run(t.Context(), j, nil)
			require.NoError(t, err)
			statistics := want.Proposed().Grids[0].Statistics
			const rounding = 1e-9
			assert.InEpsilon(t, statistics.Average, got.average, rounding, "%s, %s", what, name)
			assert.InEpsilon(t, statistics.Minimum, got.minimum, rounding, "%s, %s", what, name)
			assert.Equal(t, want.Verdicts[0].Proposed().Met, got.result.Verdicts[0].Proposed().Met)
			assert.InEpsilon(t, want.Verdicts[0].Proposed().Value, got.result.Verdicts[0].Proposed().Value, rounding)
			for i := range want.Years {
				require.Len(t, got.result.Years[i].Light, len(want.Years[i].Light))
				for k := range want.Years[i].Light {
					assert.InEpsilon(t, want.Years[i].Light[k], got.result.Years[i].Light[k], rounding, "%s, %s, year %d of side %d", what, name, k, i)
				}
			}
			for k, b := range want.Years[1].Below {
				assert.InEpsilon(t, b.Least, got.result.Years[1].Below[k].Least, rounding, "%s, %s", what, name)
				assert.InDelta(t, b.Years, got.result.Years[1].Below[k].Years, 1e-6, "%s, %s", what, name)
			}
			assert.Equal(t, len(want.NotInAllYears()), len(got.result.NotInAllYears()))
			assert.False(t, math.IsNaN(got.average))
		}
	}
}

// Of a photometric file no lamp is known: none can stand in its place, and the page says nothing of what one would burn on.
func TestNoLampInThePlaceOfAFile(t *testing.T) {
	lamp, ok := catalog.FindLamp("F32T8/800")
	require.True(t, ok)
	_, ok = feedOf(lamp, job.System{})
	assert.False(t, ok)
	assert.Empty(t, Tried{lamp: lamp.Name}.feed(&job.Job{}))
}
