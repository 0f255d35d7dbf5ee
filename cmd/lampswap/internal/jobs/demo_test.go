package jobs_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/luminaire"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
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
