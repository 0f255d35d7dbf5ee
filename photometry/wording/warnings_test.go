package wording

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
)

// Methods that do not confirm each other are told why.
func TestMethodsApart(t *testing.T) {
	for lumen, confirmed := range map[float64]bool{90.1: true, 89.9: false, 100: true, 104.9: true, 105.1: false} {
		s := lighting.Side{System: &lighting.System{LumenMethod: lighting.LumenMethod{MaintainedAverage: lumen}, Grids: []lighting.Grid{{Statistics: room.Statistics{Average: 100}}}}}
		assert.Equal(t, confirmed, study.Confirm(study.Averages(s.System)), "%v lx", lumen)
	}
	high := lighting.Side{System: &lighting.System{LumenMethod: lighting.LumenMethod{MaintainedAverage: 208}, Grids: []lighting.Grid{{Statistics: room.Statistics{Average: 184}}}}}
	high.LumenMethod.RoomCavityRatio = 16.3
	assert.Equal(t, "the two methods differ by 12 percent (184 lx against 208 lx): the room cavity ratio of 16.3 is beyond 10, where published tables of the lumen method end",
		methodsApart(&study.Result{Job: &job.Job{Interreflection: true}}, high))
	assert.True(t, study.Confirm(study.Averages(&lighting.System{Grids: []lighting.Grid{{}}})), "two that are nothing")
}

func TestWeighed(t *testing.T) {
	assert.Equal(t, []string{
		"existing: all light may be that far off",
		"a slip, perhaps: so many watts",
		"proposed: lamps x may not start",
		"proposed: spacing exceeds the spacing criterion along (1.5 over 1.2)",
		"existing: spacing exceeds the spacing criterion along (1.4 over 1.2)",
		"Warehouse: superseded",
		"existing, hall, shop; proposed: watts of b are from memory, unverified",
	}, weighed([]said{
		{study.WattsUnverified, "existing, hall", "watts of b are from memory, unverified"},
		{study.WideSpacing, "existing", "spacing exceeds the spacing criterion along (1.4 over 1.2)"},
		{study.WattsUnverified, "existing, shop", "watts of b are from memory, unverified"},
		{study.WattsUnverified, "proposed", "watts of b are from memory, unverified"},
		{study.WideSpacing, "proposed", "spacing exceeds the spacing criterion along (1.5 over 1.2)"},
		{study.Caveat, "", "Warehouse: superseded"},
		{study.Starting, "proposed", "lamps x may not start"},
		{study.MuchLoad, "", "a slip, perhaps: so many watts"},
		{study.Imbalance, "existing", "all light may be that far off"},
	}))
}
