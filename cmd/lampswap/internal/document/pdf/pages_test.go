package pdf

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Every box is placed once and in order, none beyond the page unless it is higher than one; what is kept together is on one page if it
// can be, and the head of a table is drawn again where a row of it begins a page.
func TestPaginate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const height = 100.0
		boxes := make([]box, rapid.IntRange(1, 40).Draw(t, "boxes"))
		var drawn []int
		head := &box{height: 6, draw: func(float64, float64) { drawn = append(drawn, -1) }}
		for i := range boxes {
			boxes[i] = box{before: rapid.Float64Range(0, 10).Draw(t, "before"), height: rapid.Float64Range(1, 90).Draw(t, "height"),
				keep: rapid.Bool().Draw(t, "keep"),
				draw: func(float64, float64) { drawn = append(drawn, i) }}
			if rapid.Bool().Draw(t, "shrinks") {
				boxes[i].least = boxes[i].height * rapid.Float64Range(0.5, 1).Draw(t, "least")
			}
			if rapid.Bool().Draw(t, "row") {
				boxes[i].head = head
			}
		}
		pages := paginate(boxes, height)
		pageOf, next := make([]int, len(boxes)), 0
		for p, page := range pages {
			bottom := 0.0
			for k, b := range page {
				drawn = nil
				b.draw(b.y, b.height)
				assert.GreaterOrEqual(t, b.y, bottom-1e-9, "none over the one before")
				bottom = b.y + b.height
				assert.LessOrEqual(t, bottom, height+1e-9)
				if drawn[0] < 0 {
					assert.Zero(t, k, "a head is drawn again at the top only")
					continue
				}
				require.Equal(t, next, drawn[0], "in order")
				pageOf[next] = p
				own := boxes[next]
				assert.LessOrEqual(t, b.height, own.height+1e-9)
				assert.GreaterOrEqual(t, b.height, map[bool]float64{true: own.least, false: own.height}[own.least > 0]-1e-9)
				assert.False(t, k == 0 && own.head != nil, "a row does not begin a page without its head")
				next++
			}
		}
		assert.Equal(t, len(boxes), next, "each is placed")
		for i := 0; i < len(boxes); {
			n, tall := i, boxes[i].height+head.height
			for boxes[n].keep && n+1 < len(boxes) {
				n++
				tall += boxes[n].before + boxes[n].height
			}
			if tall <= height {
				assert.Equal(t, pageOf[i], pageOf[n], "boxes %d to %d are kept together", i, n)
			}
			i = n + 1
		}
	})
}

// A figure is drawn lower before it leaves the rest of a page empty.
func TestPaginateShrinksWhatCanBeDrawnLower(t *testing.T) {
	nothing := func(float64, float64) {}
	pages := paginate([]box{{height: 50, draw: nothing}, {height: 60, least: 40, draw: nothing}}, 100)
	require.Len(t, pages, 1)
	assert.InDelta(t, 50, pages[0][1].height, 1e-12)
	pages = paginate([]box{{height: 70, draw: nothing}, {height: 60, least: 40, draw: nothing}}, 100)
	require.Len(t, pages, 2)
	assert.InDelta(t, 60, pages[1][0].height, 1e-12)
}

// A few lines are not left for a page of their own: the part that they end goes there.
func TestSpreadLeavesNoLineAlone(t *testing.T) {
	nothing := func(float64, float64) {}
	boxes := []box{{height: 60, draw: nothing}, {height: 10, opens: part, keep: true, draw: nothing}, {height: 10, draw: nothing}, {height: 10, draw: nothing},
		{height: 12, draw: nothing}}
	require.Len(t, paginate(boxes, 100)[1], 1)
	pages := spread(boxes, 100)
	require.Len(t, pages, 2)
	assert.Len(t, pages[0], 1)
	assert.Len(t, pages[1], 4)
}

// Where the chapter behind the cover would leave half of a page empty later on, it begins a page; a last page of a few lines gets the whole
// last chapter.
func TestSpreadBeginsAPageWhereThatFillsThem(t *testing.T) {
	nothing := func(float64, float64) {}
	heading := func() box { return box{height: 5, opens: chapter, keep: true, draw: nothing} }
	pages := spread([]box{heading(), {height: 45, draw: nothing}, heading(), {height: 45, draw: nothing}, {height: 45, draw: nothing}, heading(),
		{height: 90, draw: nothing}}, 100)
	require.Len(t, pages, 3)
	assert.Len(t, pages[0], 2, "the cover alone")
	assert.Len(t, pages[1], 3, "then the chapter whole")

	boxes := []box{heading(), {height: 60, draw: nothing}, heading(), {height: 12, draw: nothing}, {height: 12, draw: nothing}, {height: 12, draw: nothing}}
	pages = spread(boxes, 100)
	require.Len(t, pages, 2)
	assert.Len(t, pages[1], 4, "no page has the last line alone")
}

// What can be drawn lower is, by a little, where that spares a page; maps are not.
func TestSpreadDrawsFiguresLower(t *testing.T) {
	nothing := func(float64, float64) {}
	boxes := []box{{height: 50, least: 40, draw: nothing}, {height: 30, draw: nothing}, {height: 24, draw: nothing}}
	assert.Len(t, paginate(boxes, 100), 2)
	assert.Len(t, spread(boxes, 100), 1)
	boxes[0].fit = func(most float64) float64 { return most }
	assert.Len(t, spread(boxes, 100), 2)
}
