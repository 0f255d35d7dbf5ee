package form

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/page/tomltext"
)

// everyPart has an element of each kind.
const everyPart = `units = "metric"
[room]
length = 30.0
[[racks]]
corner = [1.0, 1.0]
[[grids]]
name = "face"
from = [0.0, 0.0]
[[grids]]
name = "area"
area = [0.0, 0.0, 1.0, 1.0]
[[criteria]]
level = "warehouse-active-bulky"
[[criteria]]
name = "even"
statistic = "maximum_to_minimum"
at_most = 5.0
[[criteria]]
name = "frugal"
statistic = "power_density"
at_most = 8.0
[[criteria]]
name = "bright"
at_least = 100.0
`

func fieldsOf(t *testing.T, text string) map[string]Field {
	t.Helper()
	read, err := tomltext.Read(text)
	require.NoError(t, err)
	all := map[string]Field{}
	for _, f := range FieldsOf(PartsOf(read, []string{"mine.ies"}, []string{"beside.ies"})) {
		assert.NotContains(t, all, f.Path, "one field a key")
		all[f.Path] = f
	}
	return all
}

// Every number but a count has its unit beside it.
func TestEveryNumberHasAUnit(t *testing.T) {
	all := fieldsOf(t, everyPart)
	require.Greater(t, len(all), 50)
	for path, f := range all {
		assert.NotEmpty(t, f.label, path)
		if f.kind == numeric {
			assert.NotEmpty(t, Unit(f.unit, true), path)
		}
	}
	for path, want := range map[string]string{"room.length": "m", "criteria[1].at_most": "to 1", "criteria[2].at_most": "W/m²", "criteria[3].at_least": "lx"} {
		assert.Equal(t, want, Unit(all[path].unit, false), path)
	}
}

// A form that comes back as it was shown changes nothing, whatever the values are.
func TestWhatIsShownAndSentBackChangesNothing(t *testing.T) {
	read, err := tomltext.Read(everyPart)
	require.NoError(t, err)
	posted := map[string][]string{}
	for _, p := range PartsOf(read, nil, nil) {
		v := p.View(Context{Text: read})
		for _, f := range v.Fields {
			addBoxes(posted, f)
		}
		for _, pair := range v.Pairs {
			addBoxes(posted, pair.Before)
			addBoxes(posted, pair.After)
		}
		for _, e := range v.Elements {
			for _, f := range e.Fields {
				addBoxes(posted, f)
			}
		}
	}
	require.Greater(t, len(posted), 60)
	text, err := Apply(everyPart, posted, nil, nil)
	require.NoError(t, err)
	assert.Equal(t, everyPart, text)
}

func addBoxes(posted map[string][]string, f FieldView) {
	for _, b := range f.Boxes {
		posted[b.Name] = []string{b.Value}
	}
}
