package uncertainty_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
	"lampswap/photometry/study"
	"lampswap/photometry/uncertainty"
	"lampswap/photometry/wording"
)

// swap is a small hall whose fixtures are known by their cross-section, with nothing said of what is in doubt.
const swap = `units = "imperial"
[room]
length = 40.0
width = 30.0
height = 14.0
reflectance = { ceiling = 0.5, walls = 0.3, floor = 0.2 }
[layout]
mounting_height = 12.0
rows = 3
columns = 4
[existing]
%s
[proposed]
%s
[calculation]
spacing = 4.0
interreflection = false
[uncertainty]
`

const (
	t12      = "fixture = \"strip-4in\"\nlamp = \"F96T12\"\nlamps = 2\nballast = \"magnetic\"\n"
	t8       = "fixture = \"strip-4in\"\nlamp = \"F32T8/800\"\nlamps = 4\nballast = \"is-normal\"\n"
	typed    = "fixture = \"strip-4in\"\nlamp_lumens = 2800.0\nlamp_diameter = 0.0833\nlamps = 4\nballast_factor = 0.88\ninput_watts = 112.0\n"
	typedLow = "fixture = \"strip-4in\"\nlamp_lumens = 2650.0\nlamp_diameter = 0.0833\nlamps = 4\nballast_factor = 0.88\ninput_watts = 112.0\n"
)

// fixtures keeps the light of cross-sections that several jobs have.
var fixtures = job.NewShelf(64 << 20)

// swapped works out the hall, with tolerances.
func swapped(tb testing.TB, existing, proposed, tolerances string) *study.Result {
	tb.Helper()
	j, err := fixtures.Read("hall.toml", fmt.Appendf(nil, swap+tolerances, existing, proposed), nil)
	require.NoError(tb, err)
	r, err := study.Run(tb.Context(), j, nil)
	require.NoError(tb, err)
	return r
}

// Two systems of which the job says the same differ by nothing, whatever is in doubt: of a computed cross-section, with lamps and ballasts of the lists or
// typed, and of a photometric file.
func TestIdenticalSystemsDoNotChange(t *testing.T) {
	for name, r := range map[string]*study.Result{"lists": swapped(t, t8, t8, ""), "typed": swapped(t, typed, typed, ""),
		"a file": doubtful(t, everything, bounced...)} {
		u := r.Uncertainty
		change := u.Sides[1].Change
		assert.Equal(t, uncertainty.Interval{}, *change, name)
		assert.Equal(t, uncertainty.Probability{}, u.Sides[1].Darker, name)
		assert.Greater(t, width(u.Sides[1].Average), 0.1*u.Sides[1].Average.Predicted, name)
		words := strings.Join(wording.Uncertainty(u, r.Job), "\n")
		assert.Contains(t, words, "The proposed average is the existing one, whatever its value: the systems share every error, so it does not get darker.", name)
		assert.Contains(t, words, "; for the change nothing\n", name)
	}
}

// sharedBy tells which inputs two systems have in common, and which only one.
func sharedBy(u *uncertainty.Uncertainty) (both, one string) {
	var common, own []string
	for _, e := range u.Inputs {
		if len(e.Sides) == 2 {
			common = append(common, e.Input.Key())
		} else {
			own = append(own, e.Input.Key()+" "+e.Sides[0])
		}
	}
	return strings.Join(common, ", "), strings.Join(own, ", ")
}

// doubtOf leaves only the named inputs in doubt, as they are found.
func doubtOf(inputs ...string) string {
	text := ""
	for line := range strings.Lines(certain + "lamps_in_fixture = 0\n") {
		if key, _, _ := strings.Cut(line, " ="); !slices.Contains(inputs, key) {
			text += line
		}
	}
	return text
}

// The parts that two systems have in common are off alike, and the rest is not.
func TestWhatSystemsShare(t *testing.T) {
	for _, c := range []struct {
		existing, proposed, inputs, both, one string
	}{
		{t12, t8, "photometry", "photometry", ""},
		{t12, t8, "lamps_in_fixture", "", "lamps_in_fixture existing, lamps_in_fixture proposed"},
		{t8, strings.Replace(t8, "is-normal", "is-low", 1), "lamps_in_fixture", "lamps_in_fixture", ""},
		{t8, strings.Replace(t8, "is-normal", "is-low", 1), "lamp_lumens", "lamp_lumens", ""},
		{t8, strings.Replace(t8, "is-normal", "is-low", 1), "ballast_factor", "", "ballast_factor existing, ballast_factor proposed"},
		{t8, strings.Replace(t8, "F32T8/800", "F32T8/700", 1), "lamp_lumens", "", "lamp_lumens existing, lamp_lumens proposed"},
		{typed, typedLow, "lamp_lumens", "", "lamp_lumens existing, lamp_lumens proposed"},
		{typed, typedLow, "ballast_factor", "ballast_factor", ""},
		{typed, strings.Replace(typed, "112.0", "98.0", 1), "ballast_factor", "", "ballast_factor existing, ballast_factor proposed"},
		{t12, strings.Replace(t8, "strip-4in", "strip-5in", 1), "photometry", "", "photometry existing, photometry proposed"},
	} {
		u := swapped(t, c.existing, c.proposed, doubtOf(c.inputs)).Uncertainty
		both, one := sharedBy(u)
		assert.Equal(t, c.both, both, "%s of %s, then %s", c.inputs, c.existing, c.proposed)
		assert.ElementsMatch(t, strings.Split(c.one, ", "), strings.Split(one, ", "), "%s of %s, then %s", c.inputs, c.existing, c.proposed)
	}
}

// The same height is off alike though the places are others: one plan, or one tape.
func TestHeightIsSharedByAllWhoHangThere(t *testing.T) {
	moved := "[proposed.layout]\nmounting_height = 12.0\nrows = 3\ncolumns = 5\n"
	both, one := sharedBy(swapped(t, t8, t8+moved, doubtOf()).Uncertainty)
	assert.Empty(t, both+one)
	table := strings.Replace(doubtOf(), "mounting_height = 0", "mounting_height = 0.5", 1)
	both, one = sharedBy(swapped(t, t8, t8+moved, table).Uncertainty)
	assert.Equal(t, "mounting_height", both)
	assert.Empty(t, one)
	both, one = sharedBy(swapped(t, t8, t8+strings.Replace(moved, "12.0", "11.0", 1), table).Uncertainty)
	assert.Empty(t, both)
	assert.ElementsMatch(t, []string{"mounting_height existing", "mounting_height proposed"}, strings.Split(one, ", "))
}

// One cross-section with other lamps: the fixture's error cancels, that of each kind of lamp in it does not.
func TestTheFixtureCancelsInTheChange(t *testing.T) {
	r := swapped(t, t12, t8, doubtOf("photometry", "lamps_in_fixture"))
	u := r.Uncertainty
	common, own := uncertainty.SectionStandards(&r.Job.Existing)
	for _, s := range u.Sides {
		assert.InEpsilon(t, math.Hypot(common, own), s.Average.StandardDeviation/s.Average.Mean, chance/math.Sqrt(2*10_000)+0.002, "0.002 for the second order")
	}
	change := u.Sides[1].Change
	assert.InEpsilon(t, math.Sqrt2*own, change.StandardDeviation/(1+change.Mean), chance/math.Sqrt(2*10_000)+0.002)
	words := strings.Join(wording.Uncertainty(u, r.Job), "\n")
	assert.Contains(t, words, "photometry, existing and proposed: normal, standard deviation 4.5 percent, computed from a cross-section; by a study of sections")
	assert.Contains(t, words, "lamps in the fixture, proposed: normal, standard deviation 1.25 percent, what other lamps in the cross-section do not share")
}

// Where every error is shared, a swap that takes light takes it for certain.
func TestAChangeWithoutDoubt(t *testing.T) {
	r := swapped(t, typed, typedLow, doubtOf("photometry", "lamps_in_fixture"))
	side := r.Uncertainty.Sides[1]
	assert.InDelta(t, 2650.0/2800-1, side.Change.Low, 1e-12)
	assert.InDelta(t, 2650.0/2800-1, side.Change.High, 1e-12)
	assert.Equal(t, 1.0, side.Darker.Value)
	assert.Contains(t, strings.Join(wording.Uncertainty(r.Uncertainty, r.Job), "\n"), "The proposed average is 94.6 percent of the existing one, whatever their values")
}

// Height moves the room cavity ratio, and with it what dirt on the room's surfaces takes: a room solved whole at the other height has the same light, and
// both doubts together draw what the law says.
func TestHeightMovesRoomSurfaceDirt(t *testing.T) {
	dirty := []string{"atmosphere = \"clean\"\nclean_months = 12.0", "atmosphere = \"very-dirty\"\nclean_months = 36.0"}
	r := doubtful(t, "mounting_height = 0.8", dirty...)
	e := r.Uncertainty.Inputs[0]
	require.Equal(t, job.MountingHeight, e.Input)
	moved := 0.0
	for _, c := range []struct{ by, want float64 }{{-0.8, e.Low}, {0.8, e.High}} {
		full := run(t, append(dirty, "mounting_height = 4.0", fmt.Sprintf("mounting_height = %g", 4+c.by))...)
		assert.InDelta(t, full.Proposed().Grids[0].Statistics.Average/r.Proposed().Grids[0].Statistics.Average, 1+c.want, 1e-3, "%g m", c.by)
		moved = max(moved, math.Abs(full.Proposed().Losses.RoomSurfaceDirtDepreciation.Value/r.Proposed().Losses.RoomSurfaceDirtDepreciation.Value-1))
	}
	assert.Greater(t, moved, 0.01, "the test sees it")
	given := doubtful(t, "mounting_height = 0.8", append(dirty, "input_watts = 60.0\n", "input_watts = 60.0\n[proposed.losses]\nroom_surface_dirt_depreciation = 0.8\n")...)
	assert.Greater(t, e.High, given.Uncertainty.Inputs[0].Low-1, "both are shares")
	assert.Greater(t, math.Abs(given.Uncertainty.Inputs[0].High-e.High), 0.005, "a factor that the job gives does not hang on the height")
}
