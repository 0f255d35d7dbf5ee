package job_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/room"
)

func with(t *testing.T, tables string) *job.Job {
	t.Helper()
	return read(t, strings.Replace(sound, "[[criteria]]", tables+"[[criteria]]", 1))
}

// Observers that the job names stand in place of those by rule; an eye is that of a seated person unless the job says.
func TestObservers(t *testing.T) {
	rule := with(t, "")
	assert.False(t, rule.ObserversNamed)
	assert.Len(t, rule.Observers, 8)

	named := with(t, "[[observers]]\nname = \"bench\"\nat = [1.0, 2.0]\nlooking = -90.0\n[[observers]]\nat = [3.0, 3.5]\nheight = 3.4\nlooking = 0.0\n")
	assert.True(t, named.ObserversNamed)
	assert.Equal(t, []glare.Observer{{Name: "bench", Eye: room.Vec{X: 1, Y: 2, Z: 1.2}, Looking: -math.Pi / 2},
		{Name: "observer 2", Eye: room.Vec{X: 3, Y: 3.5, Z: 3.4}}}, named.Observers)
	assert.Contains(t, named.Defaults, job.Default{Key: "observers[0].height", Value: "1.2", Reason: "the eyes of seated persons"})
	assert.Contains(t, named.Defaults, job.Default{Key: "observers[1].name", Value: `"observer 2"`, Reason: "observers are numbered"})
}

// Limits of glare and color, the job's own and those of a level's row.
func TestCriteriaOfComfort(t *testing.T) {
	of := func(text string) levels.Criterion {
		t.Helper()
		j := with(t, "[[criteria]]\n"+text)
		return j.Criteria[0]
	}
	own := of("name = \"glare\"\nstatistic = \"ugr\"\nat_most = 22\n")
	assert.Equal(t, levels.Criterion{Name: "glare", Grid: levels.Observers, Statistic: levels.Glare, Required: 22, Unit: levels.Ratio, Source: "set by the owner"}, own)
	color := of("name = \"color\"\nstatistic = \"cri\"\nat_least = 80\n")
	assert.True(t, color.AtLeast)
	assert.Equal(t, levels.WholeRoom, color.Grid)
	store := of("level = \"en2011-store\"\nstatistic = \"ugr\"\n")
	assert.Equal(t, 25.0, store.Required)
	assert.Equal(t, "en2011-store", store.Level)
	assert.True(t, store.FromMemory(), "its limit of glare is")
	assert.Equal(t, 60.0, of("level = \"en2011-store\"\nstatistic = \"cri\"\n").Required)
	require.NotEqual(t, levels.Glare, of("level = \"en2011-store\"\n").Statistic, "it is asked for by itself")
}
