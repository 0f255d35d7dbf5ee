package job_test

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/diag"
	"lampswap/photometry/job"
)

// A wrong is a change of the sound job in one place; what it says then is want, all of it, to the letter.
type wrong struct{ old, new, want string }

// part is the sound job from one word to the first of the other.
func part(from, to string) string {
	return sound[strings.Index(sound, from):strings.Index(sound, to)]
}

// wrongs are all the mistakes that are tried, in the order of the files that hold them.
func wrongs() []wrong {
	return slices.Concat(wrongKeys, wrongSizes, wrongCriteria, wrongMoney, wrongTolerances, wrongLamps, wrongShifts, wrongEgress, wrongShapes, wrongOffers)
}

// wrongsOfGroups are those of a job with groups.
func wrongsOfGroups() []wrong {
	return slices.Concat(wrongGroups, wrongShiftsOfGroups, wrongShapesOfGroups, wrongEgressOfGroups, wrongCostsOfGroups)
}

func TestWrongJobs(t *testing.T) {
	assert.Empty(t, read(t, sound).Warnings)
	for _, c := range wrongs() {
		_, err := shelf.Read("dock.toml", []byte(replaced(t, sound, c.old, c.new)), open)
		assert.EqualError(t, err, c.want, "%.200s", c.new)
	}
	for _, c := range wrongsOfGroups() {
		_, err := shelf.Read("dock.toml", []byte(replaced(t, grouped, c.old, c.new)), open)
		assert.EqualError(t, err, c.want, "%.200s", c.new)
	}
}

// No mistake is tried twice, and there are not fewer than a hundred.
func TestWrongJobsAreMany(t *testing.T) {
	tried := map[string]bool{}
	for _, c := range wrongs() {
		text := replaced(t, sound, c.old, c.new)
		assert.False(t, tried[text], "twice: %.200s", c.new)
		tried[text] = true
	}
	assert.GreaterOrEqual(t, len(tried), 100)
	assert.GreaterOrEqual(t, len(wrongsOfGroups()), 60, "of rooms as they are found")
}

// Each key that a job file may have is wrong in one of them at least.
func TestEveryKeyIsTriedWrong(t *testing.T) {
	tried := map[string]bool{}
	place := regexp.MustCompile(`(?m)^dock\.toml:\d+:\d+: ([^:, ]+): `)
	for _, c := range append(wrongs(), wrongsOfGroups()...) {
		for _, found := range place.FindAllStringSubmatch(c.want, -1) {
			tried[plainKey(found[1])] = true
		}
	}
	known := knownKeys(t)
	assert.Greater(t, len(known), 100, "the keys are found")
	for _, key := range known {
		assert.True(t, tried[key], "%s is never wrong", key)
	}
}

// everyTable is a job with every table that there is, each with a key that there is not.
var everyTable = strings.ReplaceAll(`X = 1
[room]
X = 1
length = 20
width = 10
height = 6
[room.reflectance]
X = 1
[[racks]]
X = 1
corner = [2, 3]
size = [10, 1, 3]
[racks.repeat]
X = 1
count = 2
step = [0, 3]
[layout]
X = 1
mounting_height = 5
rows = 2
columns = 4
[existing]
X = 1
photometry = "strip.ies"
[existing.losses]
X = 1
[existing.costs]
X = 1
[existing.upkeep]
X = 1
[proposed]
X = 1
fixture = "strip-4in"
lamp = "F32T8/700"
lamps = 2
ballast = "is-normal"
[proposed.layout]
X = 1
mounting_height = 5
positions = [[1, 1]]
[firm]
X = 1
name = "L"
[offer]
X = 1
[[photos]]
X = 1
file = "photo.png"
[[shifts]]
X = 1
days = "fri"
from = "06:00"
to = "14:00"
[upkeep]
X = 1
[calculation]
X = 1
[[grids]]
X = 1
name = "face"
from = [2, 4]
to = [12, 4]
heights = [1, 2]
facing = 90
[[grids]]
X = 1
name = "way"
area = [14, 2, 18, 8]
[[criteria]]
X = 1
at_least = 1
[[criteria]]
X = 1
level = "fmr-storage"
[[criteria]]
X = 1
energy_code = "90.1-2016"
space = "Warehouse"
[egress]
X = 1
luminaires = [1]
grid = "way"
[egress.existing]
X = 1
[energy]
X = 1
[costs]
X = 1
lines = [["a", 1]]
[[rebates]]
X = 1
per = "kwh"
amount = 1
[life_cycle]
X = 1
[uncertainty]
X = 1
[uncertainty.reflectance]
X = 1
[uncertainty.proposed]
X = 1
`, "X", "no-such-key-no-such-key-no-such-key")

// everyGroup is the same of kinds and groups, which stand in the place of others.
var everyGroup = strings.ReplaceAll(`[room]
length = 20
width = 10
height = 6
[kinds.a]
X = 1
photometry = "strip.ies"
[kinds.a.losses]
X = 1
[kinds.a.costs]
X = 1
[kinds.a.upkeep]
X = 1
[[groups]]
X = 1
existing = "a"
proposed = "a"
mounting_height = 5
count = 1
[groups.egress]
X = 1
luminaires = [1]
[[groups.shifts]]
X = 1
days = "fri"
from = "06:00"
to = "14:00"
[egress]
X = 1
grid = "work plane"
[costs]
X = 1
[costs.proposed]
X = 1
`, "X", "no-such-key-no-such-key-no-such-key")

// knownKeys are the keys that a job file may have, as the reader itself lists them beside a key that it does not know.
func knownKeys(t *testing.T) []string {
	t.Helper()
	keys := append(keysKnownIn(t, everyTable), keysKnownIn(t, everyGroup)...)
	slices.Sort(keys)
	return slices.Compact(keys)
}

func keysKnownIn(t *testing.T, text string) []string {
	t.Helper()
	_, err := job.Read("every.toml", []byte(text), open)
	var faults diag.List
	require.True(t, errors.As(err, &faults), "%v", err)
	var keys []string
	for _, fault := range faults {
		table, unknown := strings.CutSuffix(fault.Key, "no-such-key-no-such-key-no-such-key")
		list, listed := strings.CutPrefix(fault.Want, "one of ")
		require.True(t, unknown && listed, "%v", fault)
		for key := range strings.SplitSeq(list, ", ") {
			keys = append(keys, plainKey(table+key))
		}
	}
	require.Equal(t, strings.Count(text, "no-such-key-no-such-key-no-such-key = 1"), len(faults))
	return keys
}

var (
	index  = regexp.MustCompile(`\[\d+\]`)
	system = regexp.MustCompile(`\b(existing|proposed|replacement|kinds\.\w+)\.`)
)

// plainKey is a key without its numbers, and the same for every system; a layout is read the same wherever it stands.
func plainKey(key string) string {
	key = strings.Replace(index.ReplaceAllString(key, ""), "groups.shifts", "shifts", 1)
	key = strings.Replace(key, "groups.egress.", "egress.", 1)
	key = strings.Replace(system.ReplaceAllString(key, "SYSTEM."), "egress.SYSTEM.", "egress.", 1)
	return strings.Replace(key, "SYSTEM.layout", "layout", 1)
}
