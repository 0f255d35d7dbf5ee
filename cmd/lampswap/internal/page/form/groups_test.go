package form

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/page/plan"
	"lampswap/cmd/lampswap/internal/page/tomltext"
)

const groupedJob = `[room]
length = 20
width = 10
height = 6
[kinds.a] # the old ones
lamps = 2
[kinds."b c"]
lamps = 4
[[groups]]
name = "dock" # by the gate
existing = "a"
proposed = "none"
area = [0, 0, 10, 10]
count = 7
failed = [2, 3]
[groups.egress]
luminaires = [1]
[[groups]]
existing = "a"
proposed = "b c"
positions = [[1, 2], [3, 4]]
[upkeep]
clean_months = 12
`

// A job with groups has fields for its kinds and a row for each group, and none that would stand beside them: of [layout], [existing], [proposed].
func TestGroupsHaveFields(t *testing.T) {
	all := fieldsOf(t, groupedJob)
	for path := range all {
		assert.NotRegexp(t, `^(layout|existing|proposed)\.`, path)
	}
	for _, path := range []string{"kinds.a.lamps", "groups[0].existing", "groups[1].control_saving", "groups[0].area", "upkeep.clean_months"} {
		assert.Contains(t, all, path)
	}
	assert.NotContains(t, all, "groups[0].replacement", "the job compares none")
	text, err := tomltext.Read(groupedJob)
	require.NoError(t, err)
	for _, p := range PartsOf(text, nil, nil) {
		if v := p.View(Context{Text: text}); p.id == "groups" {
			require.Len(t, v.Elements, 2)
			assert.Len(t, v.Heads, len(v.Elements[0].Fields))
			assert.Equal(t, "copy-groups-1", v.Elements[1].Copy)
		}
	}
	sketch := plan.Of(text)
	assert.Len(t, sketch.Luminaires, 9, "seven in the area, two at places of their own")
}

// The table of groups: what is typed, a copy, a row taken out, one added; remarks stay.
func TestGroupsAreEdited(t *testing.T) {
	for _, c := range []struct {
		name       string
		posted     url.Values
		has, hasNo string
	}{
		{"nothing", url.Values{"groups[0].failed": {"[2, 3]"}}, groupedJob, "no such word"},
		{"failed by their number", url.Values{"groups[0].failed": {"3"}}, "failed = 3\n", "[2, 3]"},
		{"failed by their numbers", url.Values{"groups[0].failed": {"2, 5 6"}}, "failed = [2, 5, 6]", "[2, 3]"},
		{"another kind", url.Values{"groups[0].proposed": {"b c"}}, "proposed = \"b c\"\narea", "\"none\""},
		{"a control", url.Values{"groups[0].control": {"occupancy"}, "groups[0].control_saving": {"0.3"}}, "failed = [2, 3]\ncontrol = \"occupancy\"\ncontrol_saving = 0.3\n", "no such word"},
		{"an area", url.Values{"groups[0].area:0": {"1"}, "groups[0].area:1": {"0"}, "groups[0].area:2": {"10"}, "groups[0].area:3": {"10"}}, "area = [1, 0, 10, 10]", "[0, 0, 10, 10]"},
		{"a copy", url.Values{"do": {"copy-groups-0"}}, "positions = [[1, 2], [3, 4]]\n\n[[groups]]\nname = \"group 1\" # by the gate\nexisting = \"a\"\nproposed = \"none\"\n" +
			"area = [0, 0, 10, 10]\ncount = 7\nfailed = [2, 3]\n[groups.egress]\nluminaires = [1]\n[upkeep]", "no such word"},
		{"a row less", url.Values{"do": {"remove-groups-0"}}, "[[groups]]\nexisting = \"a\"", "by the gate"},
		{"a row more", url.Values{"do": {"add-group"}}, "[[groups]]\nname = \"group 1\"\nexisting = \"a\"\nproposed = \"b c\"\nmounting_height = 5.4\ncount = 4\n", "no such word"},
		{"a kind more", url.Values{"do": {"add-kind"}}, "[kinds.kind-1]\nfixture = \"strip-4in\"\n", "no such word"},
		{"a kind less", url.Values{"do": {"remove-kinds-0"}}, "[kinds.\"b c\"]", "the old ones"},
		{"no such row", url.Values{"do": {"copy-groups-9"}}, groupedJob, "no such word"},
		{"no such list", url.Values{"do": {"copy-racks-0"}}, groupedJob, "no such word"},
		{"no such kind", url.Values{"do": {"remove-kinds-9"}}, groupedJob, "no such word"},
	} {
		got, err := Apply(groupedJob, c.posted, nil, nil)
		require.NoError(t, err, c.name)
		assert.Contains(t, got, c.has, c.name)
		assert.NotContains(t, got, c.hasNo, c.name)
	}
}

// The short form becomes the long one by a button.
func TestToGroups(t *testing.T) {
	got, err := Apply("[layout]\nmounting_height = 4\nrows = 1\ncolumns = 2\n[existing]\nlamps = 2\n[proposed]\nlamps = 4\n", url.Values{"do": {"to-groups"}}, nil, nil)
	require.NoError(t, err)
	assert.Contains(t, got, "[kinds.existing]\nlamps = 2\n[kinds.proposed]")
	assert.Contains(t, got, "[[groups]]\nname = \"all\"")
}
