package jobs_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/luminaire"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/job"
	"lampswap/photometry/lm63"
)

var update = flag.Bool("update", false, "write the files that a test compares with anew")

// The demonstration's photometric files are what the section of the built-in strip gives with the lamps of the list, and say so.
func TestDemoPhotometryIsComputed(t *testing.T) {
	for name, c := range map[string]struct {
		lamp, ballast    string
		across, endToEnd int
	}{
		"demo/strip-2x8ft-t12.ies": {"F96T12", "magnetic", 2, 1},
		"demo/strip-4x4ft-t8.ies":  {"F32T8/800", "is-normal", 2, 2},
	} {
		section, ok := fixture.Find("strip-5in")
		require.True(t, ok)
		lamp, ok := catalog.FindLamp(c.lamp)
		require.True(t, ok)
		ballast, ok := catalog.FindBallast(lamp, c.across*c.endToEnd, c.ballast)
		require.True(t, ok)
		file, _, err := luminaire.SectionFile(section, fixture.Tubes{Across: c.across, EndToEnd: c.endToEnd, Diameter: lamp.Diameter, Lumens: lamp.InitialLumens,
			LuminousLength: lamp.NominalLength * float64(c.endToEnd)}, lamp.Name, ballast.BallastFactor, ballast.InputWatts)
		require.NoError(t, err)
		var want bytes.Buffer
		require.NoError(t, lm63.Write(&want, file))
		if *update {
			require.NoError(t, os.WriteFile(name, want.Bytes(), 0o644))
		}
		got, err := os.ReadFile(name)
		require.NoError(t, err)
		require.Equal(t, want.String(), string(got), "%s: run go test ./cmd/lampswap/internal/jobs -run TestDemoPhotometry -update", name)
	}
}

// The room as it is found is what it is said to be: an L with two kinds of strip, 6 of 44 of which give no light, an aisle with sensors, a mezzanine, and
// rows on the ceiling; invented, and said so.
func TestAsFoundIsWhatItIsSaidToBe(t *testing.T) {
	text, beside, err := jobs.DemoText("as-found")
	require.NoError(t, err)
	require.Empty(t, beside)
	j, err := job.Read("as-found.toml", []byte(text), nil)
	require.NoError(t, err)
	require.Contains(t, text, "invented")
	require.Contains(t, j.Title, "invented")
	require.Equal(t, 44, j.Existing.Number())
	kinds, failed, sensors, ceiling := map[string]bool{}, 0, 0, 0
	for _, s := range j.Existing.Kinds() {
		kinds[s.Kind] = true
		failed += len(s.Use.Failed)
		if s.Layout.MountingHeight == j.Room.Height {
			ceiling += len(s.Layout.Placements)
		}
	}
	for _, s := range j.Proposed.Kinds() {
		if s.Use.Control == "occupancy" {
			sensors++
		}
	}
	require.Equal(t, []int{2, 6, 1, 6}, []int{len(kinds), failed, sensors, ceiling})
	require.Len(t, j.Room.Outline, 6)
	require.Positive(t, j.Racks[2].Corner.Z, "the mezzanine hangs")
}
