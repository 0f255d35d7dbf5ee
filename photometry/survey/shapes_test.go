package survey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry/room"
	"lampswap/photometry/survey"
)

// No station lies outside the room, and those that the band along the walls takes are no points that were left unread.
func TestGridPlanInAnOutline(t *testing.T) {
	r := room.Room{Length: 20, Width: 15, Height: 4, WorkPlane: 0.8, Outline: room.Outline{{}, {X: 20}, {X: 20, Y: 6}, {X: 9, Y: 6}, {X: 9, Y: 15}, {Y: 15}}}
	points := survey.RoomGrid("work plane", r, true)
	p := survey.GridPlan(points, "g", append(r.Boxes(nil), survey.Band(r)...))
	assert.NotEmpty(t, p.Stations)
	assert.Empty(t, p.Dropped)
	assert.True(t, p.EveryPoint())
	near := 0
	for k := range points.NX * points.NY {
		if at := points.Point(k%points.NX, k/points.NX); r.Holds(at) && (at.X < 8.5 || at.Y < 5.5) {
			near++
		}
	}
	assert.Len(t, p.Stations, near)
	for _, s := range p.Stations {
		assert.True(t, r.Holds(s.Position), "%v", s.Position)
	}
	assert.Empty(t, survey.Band(room.Room{Length: 20, Width: 15, Height: 4}))
}

// A box overhead takes no station, one that hangs low does, and nobody's aisle ends below a duct.
func TestStationsBelowHangingBoxes(t *testing.T) {
	r := room.Room{Length: 20, Width: 15, Height: 6, WorkPlane: 0.8}
	at := func(bottom float64) []room.Rack {
		return []room.Rack{{Corner: room.Vec{X: 5, Y: 5, Z: bottom}, Size: room.Vec{X: 10, Y: 4, Z: 0.5}}}
	}
	grid := room.HorizontalGrid("floor", room.Vec{}, room.Vec{X: 20, Y: 15}, 0.8, 1)
	assert.Empty(t, survey.GridPlan(grid, "g", at(2.5)).Dropped, "overhead")
	assert.NotEmpty(t, survey.GridPlan(grid, "g", at(1.0)).Dropped, "right above the meter")
	assert.NotEmpty(t, survey.GridPlan(grid, "g", at(0.5)).Dropped, "around the meter")
	assert.Empty(t, survey.GridPlan(grid, "g", at(0.2)).Dropped, "below it")
	assert.False(t, survey.InTheWay(at(2.5)[0], 0.8))
	assert.True(t, survey.InTheWay(at(1.2)[0], 0.8), "below a head's height")
	assert.Len(t, survey.Aisles(r, at(2.5), 0.8, 100), 1, "the open floor")
	assert.Len(t, survey.Aisles(r, at(1.2), 0.8, 100), 4, "round about")
}
