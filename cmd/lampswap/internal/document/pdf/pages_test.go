package pdf

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func nothing(float64, float64) {}

// Every box is placed once, none over another or beyond the page; text is in order, and so are figures, of which none stands before its place's
// page; what is kept together is on one page if it can be, and the head of a table is drawn again above the first row on a page.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const height = 100.0
		boxes := make([]box, rapid.IntRange(1, 30).Draw(t, "boxes"))
		var drawn []int
		head := &box{height: 6, draw: func(float64, float64) { drawn = append(drawn, -1) }}
		for i := range boxes {
			boxes[i] = box{before: rapid.Float64Range(0, 10).Draw(t, "before"), height: rapid.Float64Range(1, 90).Draw(t, "height"),
				keep: rapid.Bool().Draw(t, "keep"), draw: func(float64, float64) { drawn = append(drawn, i) }}
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				boxes[i].float, boxes[i].keep = true, false
				boxes[i].least = boxes[i].height * rapid.Float64Range(0.5, 1).Draw(t, "least")
			case 1:
				boxes[i].head = head
			case 2:
				boxes[i].fresh = true
			}
		}
		pages := spread(boxes, height)
		pageOf := make([]int, len(boxes))
		var text, figures []int
		for p, page := range pages {
			bottom, rows := 0.0, 0
			for k, b := range page {
				drawn = nil
				b.draw(b.y, b.height)
				assert.GreaterOrEqual(t, b.y, bottom-1e-9, "none over the one before")
				bottom = b.y + b.height
				assert.LessOrEqual(t, bottom, height+1e-9)
				n := drawn[0]
				if n < 0 {
					assert.Zero(t, rows, "a head is drawn again above the first row only")
					continue
				}
				own := boxes[n]
				pageOf[n] = p
				assert.InDelta(t, own.height, b.height, own.height-own.lowest()+1e-9)
				if own.float {
					figures = append(figures, n)
					continue
				}
				assert.False(t, own.fresh && k > 0, "a part begins a page")
				assert.False(t, rows == 0 && own.head != nil && (k == 0 || page[k-1].float), "no row begins a page without its head")
				text, rows = append(text, n), rows+1
			}
		}
		assert.IsIncreasing(t, append([]int{-1}, text...))
		assert.IsIncreasing(t, append([]int{-1}, figures...))
		require.Len(t, append(text, figures...), len(boxes), "each is placed")
		for i, b := range boxes {
			if i > 0 && b.float {
				assert.GreaterOrEqual(t, pageOf[i], pageOf[i-1], "a figure stands no page before its place")
			}
			for _, later := range boxes[min(i+1, len(boxes)):] {
				assert.False(t, b.float && later.fresh && pageOf[i] > pageOf[len(boxes)-1], "in its part")
			}
		}
		for _, r := range runs(boxes, height) {
			var all []int
			for _, b := range r.boxes {
				drawn = nil
				b.draw(0, 0)
				all = append(all, pageOf[drawn[0]])
			}
			assert.Equal(t, all[0], all[len(all)-1], "kept together")
		}
	})
}

// A figure is drawn lower before it leaves the rest of a page empty; where it has no room even so, text that follows goes before it.
func TestSpreadFillsWhatAFigureLeaves(t *testing.T) {
	line := func() box { return box{height: 10, draw: nothing} }
	figure := box{height: 60, least: 40, float: true, draw: nothing}
	pages := spread([]box{line(), line(), line(), line(), line(), figure}, 100)
	require.Len(t, pages, 1)
	assert.InDelta(t, 50, pages[0][5].height, 1e-12)

	boxes := []box{line(), line(), line(), line(), line(), {height: 60, float: true, draw: nothing}}
	for range 8 {
		boxes = append(boxes, line())
	}
	pages = spread(boxes, 100)
	require.Len(t, pages, 2)
	assert.Len(t, pages[0], 10, "five lines and five more")
	assert.True(t, pages[1][0].float)
	assert.Len(t, pages[1], 4)
}

// A few lines are not left for a page of their own: the part that they end goes there.
func TestSpreadLeavesNoLineAlone(t *testing.T) {
	boxes := []box{{height: 70, draw: nothing}, {height: 10, opens: part, keep: true, draw: nothing}, {height: 10, draw: nothing}, {height: 10, draw: nothing},
		{height: 12, draw: nothing}}
	pages := spread(boxes, 100)
	require.Len(t, pages, 2)
	assert.Len(t, pages[0], 1)
	assert.Len(t, pages[1], 4)
}

// A part begins a page, and its figures stand on its own pages.
func TestSpreadKeepsFiguresInTheirPart(t *testing.T) {
	pages := spread([]box{{height: 80, draw: nothing}, {height: 60, float: true, draw: nothing}, {height: 30, fresh: true, draw: nothing}}, 100)
	require.Len(t, pages, 3)
	assert.True(t, pages[1][0].float)
	assert.True(t, pages[2][0].fresh)
}
