package study

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
)

// The warning that the two methods differ and the sentence that they confirm each other never both stand, nor neither.
func TestMethodsWarningIsTheOtherSideOfTheCrossCheck(t *testing.T) {
	for lumen, confirmed := range map[float64]bool{90.1: true, 89.9: false, 100: true, 104.9: true, 105.1: false} {
		r := &Result{Job: &job.Job{Interreflection: true}}
		s := &lighting.System{LumenMethod: lighting.LumenMethod{MaintainedAverage: lumen}, Grids: []lighting.Grid{{Statistics: room.Statistics{Average: 100}}}}
		assert.Equal(t, confirmed, confirm(averages(s)), "%v lx", lumen)
		assert.Equal(t, confirmed, r.methodsWarning(s) == "", "%v lx", lumen)
	}
	high := &lighting.System{LumenMethod: lighting.LumenMethod{MaintainedAverage: 208}, Grids: []lighting.Grid{{Statistics: room.Statistics{Average: 184}}}}
	high.LumenMethod.RoomCavityRatio = 16.3
	assert.Equal(t, "the two methods differ by 12 percent (184 lx against 208 lx): the room cavity ratio of 16.3 is beyond 10, where published tables of the lumen method end",
		(&Result{Job: &job.Job{Interreflection: true}}).methodsWarning(high))
	dark := &lighting.System{Grids: []lighting.Grid{{}}}
	assert.Empty(t, (&Result{Job: &job.Job{}}).methodsWarning(dark), "two that are nothing")
}
