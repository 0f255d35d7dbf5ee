package study_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// What a swap touches, counted by hand: twelve over the dock are changed, four in the shop taken down, of three at the gate one had failed.
func TestAlterations(t *testing.T) {
	const gate = "[[groups]]\nname = \"gate\"\nexisting = \"a\"\nproposed = \"a\"\nmounting_height = 4.0\npositions = [[2, 10], [12, 10], [22, 10]]\nfailed = [2]\n"
	const bench = "[[groups]]\nname = \"bench\"\nexisting = \"none\"\nproposed = \"b\"\nmounting_height = 4.0\npositions = [[20, 2], [22, 2]]\n"
	r := groups(t, dock+shop+gate+bench)
	a := r.Alterations()
	require.Len(t, a, 1)
	assert.Equal(t, study.Alteration{System: "proposed", Existing: 19, Changed: 12, TakenDown: 4, Repaired: 1, Stays: 2, Added: 2, LoadBefore: a[0].LoadBefore, LoadKW: a[0].LoadKW}, a[0])
	assert.Equal(t, 17, a[0].Touched())
	assert.InEpsilon(t, 17.0/19, a[0].Share(), rounding)
	assert.InEpsilon(t, 19*0.060, a[0].LoadBefore, rounding)
	assert.InEpsilon(t, 14*0.040+3*0.060, a[0].LoadKW, rounding, "connected: not dimmed")
	assert.Equal(t, "proposed: touches 17 of the room's 19 luminaires, 89 percent (12 changed, 4 taken down, 1 that failed lit again, 2 left as they are, 2 added besides); "+
		"the connected load does not rise, 1.14 to 0.74 kW", wording.Alterations(r)[0])

	sensor := groups(t, dock+gate+"control = \"occupancy\"\n").Alterations()[0]
	assert.Equal(t, 2, sensor.Controlled)
	assert.Zero(t, sensor.Stays)
	assert.Equal(t, 13, sensor.Touched())

	r = run(t, "[proposed]", "[replacement]\nphotometry = \"diffuse.ies\"\nlamps = 2\nlamp_lumens = 2000.0\nballast_factor = 0.9\ninput_watts = 90.0\n"+
		"[replacement.layout]\nmounting_height = 4.0\nrows = 5\ncolumns = 6\n[proposed]")
	same := r.Alterations()
	require.Len(t, same, 2)
	assert.Zero(t, same[0].Touched(), "nothing is changed")
	assert.Equal(t, 24, same[0].Stays)
	assert.Equal(t, 24, same[1].Changed)
	assert.Equal(t, 6, same[1].Added, "30 hang where 24 did")
	assert.Contains(t, wording.Alterations(r)[1], "the connected load rises, 1.44 to 2.70 kW")
}
