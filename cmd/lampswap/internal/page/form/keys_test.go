package form

import (
	"errors"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/diag"
	"lampswap/photometry/job"
)

// Two jobs with every table that there is; X stands for a key that no job has, beside which the reader lists those that it knows.
const (
	ofOneKind = `X = 1
[room]
X = 1
[room.reflectance]
X = 1
[[racks]]
X = 1
[racks.repeat]
X = 1
[layout]
X = 1
[existing]
X = 1
[existing.losses]
X = 1
[existing.costs]
X = 1
[existing.upkeep]
X = 1
[existing.layout]
X = 1
[proposed]
X = 1
[replacement]
X = 1
[firm]
X = 1
[offer]
X = 1
[[photos]]
X = 1
[[shifts]]
X = 1
[upkeep]
X = 1
[calculation]
X = 1
[[grids]]
X = 1
area = [1, 2, 3, 4]
[[grids]]
X = 1
from = [1, 2]
[[observers]]
X = 1
[[criteria]]
X = 1
at_least = 1
[[criteria]]
X = 1
level = "fmr-storage"
[[criteria]]
X = 1
energy_code = "90.1-2016"
[egress]
X = 1
[egress.existing]
X = 1
[energy]
X = 1
[costs]
X = 1
[[rebates]]
X = 1
[life_cycle]
X = 1
[uncertainty]
X = 1
[uncertainty.reflectance]
X = 1
[uncertainty.proposed]
X = 1
`
	ofGroups = `[room]
length = 20
width = 10
height = 6
[kinds.a]
X = 1
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
replacement = "a"
[groups.egress]
X = 1
[groups.egress.existing]
X = 1
[[groups.shifts]]
X = 1
[egress]
X = 1
[costs]
X = 1
[costs.proposed]
X = 1
`
)

const noSuchKey = "no-such-key-no-such-key-no-such-key"

// withoutField are the keys of a job that the form has no field for, each with the reason.
var withoutField = map[string]string{
	"spaces":                       "makes the file a building, each of whose spaces is a job of its own on the page",
	"costs.existing":               "of a job with groups only; else it is existing.costs",
	"costs.proposed":               "likewise",
	"costs.replacement":            "likewise",
	"egress.luminaires":            "refused in a job with groups: in [groups.egress]",
	"egress.packs":                 "refused likewise",
	"kinds.a.costs.installed_cost": "refused: of a system as a whole, in [costs.proposed]",
	"kinds.a.costs.rebate":         "refused likewise",
	"kinds.a.costs.other_per_year": "refused likewise",
	"kinds.a.costs.residual":       "refused likewise",
}

var inBrackets = regexp.MustCompile(`\[\d+\]`)

// Every key that the reader of jobs knows has a field, or is a table whose keys have, or stands above with the reason.
func TestEveryKeyHasAField(t *testing.T) {
	excused := maps.Clone(withoutField)
	known := 0
	for name, text := range map[string]string{"of one kind": ofOneKind, "of groups": ofGroups} {
		text = strings.ReplaceAll(text, "X", noSuchKey)
		read, err := tomltext.Read(text)
		require.NoError(t, err)
		fields := map[string]bool{}
		for _, f := range FieldsOf(PartsOf(read, nil, nil)) {
			path := f.Path
			if f.kind == source {
				prefix := strings.TrimSuffix(path, "source")
				fields[prefix+"photometry"], fields[prefix+"fixture"] = true, true
				continue
			}
			fields[inBrackets.ReplaceAllString(path, "")] = true
			if f.kind == shifts {
				for _, key := range []string{"days", "from", "to", "weeks"} {
					fields[inBrackets.ReplaceAllString(path, "")+"."+key] = true
				}
			}
		}
		holds := func(key string) bool {
			return fields[key] || slices.ContainsFunc(slices.Collect(maps.Keys(fields)), func(path string) bool { return strings.HasPrefix(path, key+".") })
		}
		_, err = job.Read("every.toml", []byte(text), os.ReadFile)
		var faults diag.List
		require.True(t, errors.As(err, &faults), "%v", err)
		told := 0
		for _, fault := range faults {
			table, is := strings.CutSuffix(fault.Key, noSuchKey)
			list, listed := strings.CutPrefix(fault.Want, "one of ")
			if !is || !listed {
				continue
			}
			told++
			for key := range strings.SplitSeq(list, ", ") {
				known++
				key = inBrackets.ReplaceAllString(table+key, "")
				if instead[name][strings.SplitN(key, ".", 2)[0]] || holds(key) {
					continue
				}
				assert.Contains(t, withoutField, key, name)
				delete(excused, key)
			}
		}
		assert.Equal(t, strings.Count(text, noSuchKey+" = 1"), told, "the keys of every table are listed, %s", name)
	}
	assert.Greater(t, known, 250)
	assert.Empty(t, excused, "keys that have a field after all, or are gone")
}

// instead are tables that one of the two sorts of job has in the place of the other's.
var instead = map[string]map[string]bool{
	"of one kind": {"groups": true, "kinds": true},
	"of groups":   {"layout": true, "existing": true, "proposed": true, "replacement": true},
}
