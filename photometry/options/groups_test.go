package options_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/internal/bay"
	"lampswap/photometry/job"
	"lampswap/photometry/options"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// found is the hall as it is found: two groups, one with dead luminaires, dimmed and on sensors after the swap, with a path out by packs.
const found = `title = "hall"
[room]
length = 60.0
width = 36.0
height = 14.0
reflectance = { ceiling = 0.5, walls = 0.3, floor = 0.2 }
[kinds.strip]
fixture = "strip-5in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[kinds.short]
fixture = "strip-4in"
lamp = "F32T8/700"
lamps = 2
ballast = "is-normal"
[kinds.tandem]
fixture = "strip-5in"
lamp = "F32T8/800"
lamps = 4
ballast = "is-normal"
[[groups]]
name = "hall"
existing = "strip"
proposed = "tandem"
mounting_height = 12.0
count = 8
area = [0.0, 0.0, 40.0, 36.0]
failed = 2
control = "occupancy"
control_saving = 0.3
dimmed_to = 0.8
egress = { luminaires = [1, 5] }
[[groups]]
name = "benches"
existing = "short"
proposed = "short"
mounting_height = 9.0
positions = [[45, 10], [55, 10], [45, 26], [55, 26]]
egress = { packs = [[2, 500.0]] }
[[groups]]
name = "gate"
existing = "short"
proposed = "none"
mounting_height = 9.0
positions = [[58, 18]]
[[grids]]
name = "path"
area = [0.0, 15.0, 60.0, 21.0]
height = 0.0
spacing = 3.0
[egress]
grid = "path"
pack_lumens = 900.0
[calculation]
spacing = 4.0
[energy]
price_per_kwh = 0.11
`

func readFound(tb testing.TB, pairs ...string) *job.Job {
	tb.Helper()
	j, err := shelf.Read("found.toml", []byte(bay.Replaced(tb, found, pairs...)), nil)
	require.NoError(tb, err)
	return j
}

// A row of a group is what the study finds where the group has that lamp and all others are held; the systems of the job are what it finds too.
func TestOptionsOfAGroup(t *testing.T) {
	o, err := options.Find(t.Context(), readFound(t), options.Narrow{Group: "HALL", Lamps: []string{"F32T8", "LED-8FT-36W-B"}}, nil)
	require.NoError(t, err)
	assert.Equal(t, "hall", o.Group)
	same := func(name string, want *study.Result, light func(*study.Result) (average, path, density float64), account study.Account, p *options.Option) {
		average, path, density := light(want)
		assert.InEpsilon(t, average, p.Average(), single, name)
		assert.InEpsilon(t, path, p.Light.Grids[2].Statistics.Average, single, name)
		assert.InEpsilon(t, density, p.Light.PowerDensity, rounding, name)
		assert.InEpsilon(t, account.KW, p.KW, rounding, name)
		assert.InEpsilon(t, account.KWhPerYear, p.KWhPerYear, rounding, name)
		assert.InEpsilon(t, *account.Energy, *p.EnergyCost, rounding, name)
	}
	proposed := func(r *study.Result) (average, path, density float64) {
		return r.Proposed().Grids[0].Statistics.Average, r.Proposed().Grids[2].Statistics.Average, r.Proposed().PowerDensity
	}
	existing := func(r *study.Result) (average, path, density float64) {
		return r.Existing().Grids[0].Statistics.Average, r.Existing().Grids[2].Statistics.Average, r.Existing().PowerDensity
	}
	const kind = "lamp = \"F32T8/800\"\nlamps = 4\nballast = \"is-normal\"\n"
	for row, keys := range map[string]string{
		"4 x F32T8/HL on premium-low":       "lamp = \"F32T8/HL\"\nlamps = 4\nballast = \"premium-low\"\n",
		"2 x LED-8FT-36W-B without ballast": "lamp = \"LED-8FT-36W-B\"\nlamps = 2\n",
	} {
		r := lit(t, readFound(t, kind, keys))
		same(row, r, proposed, r.Energy.Accounts[1], option(t, o, row))
	}
	r := lit(t, o.Job)
	for i := range o.List {
		switch p := &o.List[i]; {
		case p.Existing:
			same("existing", r, existing, r.Energy.Accounts[0], p)
		case p.Proposed:
			same("proposed", r, proposed, r.Energy.Accounts[1], p)
			assert.Equal(t, "4 x F32T8/800 on is-normal", wording.Option(p))
		}
	}
	own := 0
	for _, p := range o.List {
		if p.Own() {
			own++
		}
	}
	assert.Equal(t, 2, own)
	assert.Contains(t, wording.Options(o)[0], `Lamps and ballasts of group "hall"; all other groups stay as proposed.`)
}

// A group that hangs after the swap only has a row of the existing lighting without luminaires.
func TestOptionsOfANewGroup(t *testing.T) {
	o, err := options.Find(t.Context(), readFound(t, "name = \"benches\"\nexisting = \"short\"", "name = \"benches\"\nexisting = \"none\""), options.Narrow{Group: "benches", Lamps: []string{"F32T8/700"}}, nil)
	require.NoError(t, err)
	for _, p := range o.List {
		if p.Existing {
			assert.Equal(t, "none", wording.Option(&p))
			assert.Positive(t, p.Average())
		}
	}
}

// Which group varies must be known.
func TestOptionsOfWhichGroup(t *testing.T) {
	for name, want := range map[string]string{
		"":      `luminaires are proposed in 2 groups, want the group whose lamps and ballasts are to vary, one of "hall", "benches"`,
		"halls": `"halls" is no group of the job, want one of "hall", "benches"`,
		"gate":  `nothing is proposed in "gate", want one of "hall", "benches"`,
	} {
		_, err := options.Find(t.Context(), readFound(t), options.Narrow{Group: name}, nil)
		var wrong *options.GroupError
		require.ErrorAs(t, err, &wrong, name)
		assert.Equal(t, want, wrong.Error())
	}
	plain := hallOptions(t, options.Narrow{Group: "all", Lamps: []string{"F96T8/HO"}})
	assert.False(t, strings.Contains(wording.Options(plain)[0], "group"), "a layout is one group")
}
