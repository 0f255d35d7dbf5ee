package spaces_test

import (
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/codes"
	"lampswap/photometry/levels"
	"lampswap/photometry/spaces"
)

// At least a hundred kinds of space, in the order of their ids, which Find needs; every id is in kebab-case, and stands once.
func TestTheList(t *testing.T) {
	all := spaces.Spaces()
	assert.GreaterOrEqual(t, len(all), 100)
	assert.True(t, slices.IsSorted(spaces.IDs()))
	assert.Len(t, slices.Compact(spaces.IDs()), len(all))
	kebab := regexp.MustCompile(`^[a-z]+(-[a-z0-9]+)*$`)
	for _, s := range all {
		assert.Regexp(t, kebab, s.ID)
		assert.Contains(t, s.Source(), "NREL ComStock", s.ID)
		assert.True(t, s.Target >= 5 && s.Target <= 165, s.ID)
		found, ok := spaces.Find(s.ID)
		require.True(t, ok, s.ID)
		assert.Equal(t, s, found)
	}
	_, ok := spaces.Find("attic")
	assert.False(t, ok)
}

// What a space names is in the lists of levels and of codes.
func TestWhatSpacesNameIsListed(t *testing.T) {
	var limits []string
	for _, l := range codes.Limits() {
		limits = append(limits, l.Space)
	}
	named := map[string]bool{}
	for _, s := range spaces.Spaces() {
		for _, id := range s.Levels {
			_, ok := levels.Find(id)
			assert.True(t, ok, "%s: %s", s.ID, id)
		}
		for _, name := range s.CodeSpaces {
			assert.Contains(t, limits, name, s.ID)
			named[name] = true
		}
	}
	for _, name := range limits {
		assert.True(t, named[name], "no space is %s", name)
	}
}

// Values as printed: ComStock Reference Documentation, table of interior lighting space types, and its data file of sensor savings.
func TestValuesAsPrinted(t *testing.T) {
	for _, c := range []struct {
		id             string
		target, saving float64
	}{{"warehouse-bulky", 22, 0.45}, {"warehouse-fine", 33, 0.45}, {"retail-sales", 44, 0.10}, {"retail-supermarket", 72.6, 0.10}, {"office-open", 38.5, 0.15},
		{"office-enclosed", 33, 0.30}, {"corridor", 16.5, 0.25}, {"corridor-manufacturing", 15.4, 0.25}, {"stairway", 16.5, 0.75}, {"restroom", 16.5, 0.45},
		{"storage-inactive", 5.5, 0.45}, {"storage-room", 11, 0.45}} {
		s, ok := spaces.Find(c.id)
		require.True(t, ok, c.id)
		share, source, ok := s.SensorSaving()
		assert.True(t, ok, c.id)
		assert.Equal(t, []float64{c.target, c.saving}, []float64{s.Target, share}, c.id)
		assert.Contains(t, source, "occupancy_sensor_reduction_by_space_type.csv, row ")
		assert.InEpsilon(t, c.target*photometry.Footcandle, s.TargetLux(), 1e-12, c.id) // rounding
	}
	for id, target := range map[string]float64{"loading-dock": 33, "break-room": 22, "parking-garage": 5, "vehicle-maintenance": 33, "manufacturing-low-bay": 55, "workshop": 55} {
		s, _ := spaces.Find(id)
		_, _, ok := s.SensorSaving()
		assert.False(t, ok, "%s: no row is its own", id)
		assert.Equal(t, target, s.Target, id)
	}
}

func TestNear(t *testing.T) {
	for word, want := range map[string][]string{
		"warehouse":    {"warehouse-bulky", "warehouse-fine"},
		"retail-salse": {"retail-sales"},
		"open office":  {"office-open", "office-enclosed"},
		"offices":      {"office-enclosed", "office-open"},
		"zzzzzzzzzz":   nil,
	} {
		near := spaces.Near(word)
		assert.LessOrEqual(t, len(near), 5)
		require.GreaterOrEqual(t, len(near), len(want), word)
		for _, id := range want {
			assert.Contains(t, near, id, word)
		}
	}
}

func TestSearchAndLabel(t *testing.T) {
	assert.Len(t, spaces.Search(), len(spaces.Spaces()))
	assert.Len(t, spaces.Search("WAREHOUSE"), 2)
	assert.Empty(t, spaces.Search("warehouse", "restroom"))
	for id, label := range map[string]string{"retail-sales": "Sales area, retail", "office-open": "Office, open plan", "workshop": "Workshop",
		"warehouse-bulky": "Warehouse, medium to bulky material"} {
		s, _ := spaces.Find(id)
		assert.Equal(t, label, s.Label())
	}
}
