package display

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// A lightView is the light of a grid as a picture that lies over the plan, in the job's units; one of an upright grid stands by itself, along and up.
type lightView struct {
	Index      int
	Name       string
	Upright    bool
	Box        rectView
	Layers     []layerView
	Key        string // digest of its values and of what they are held against, part of their address
	Words      string // what the values are, and of which unit
	Across, Up []tickView
	Long, High string // of an upright one
	Shape      string
}

// A layerView is the light of a system, or the change, with what its colors mean.
type layerView struct {
	Which, Key string
	Bands      []bandView
	Unit       string
	NotKnown   bool
}

type bandView struct{ Fill, From, To string }

// A rectView is a rectangle of a picture, y downward.
type rectView struct{ X, Y, Width, Height string }

// coordinate writes a place of a picture.
func coordinate(x float64) string { return fmt.Sprintf("%.6g", x) }

// lightViewOf is the light of a grid, whose maps are on the sheet. width is the room's, by which y is turned downward.
func lightViewOf(r *study.Result, i int, sheet plots.Sheet) lightView {
	g := r.Existing().Grids[i]
	u := units.Of(r.Job)
	unit, width := u.Meter, r.Job.Room.Width
	v := lightView{Index: i, Name: g.Label(), Upright: g.Plane == room.Vertical}
	e := sheet.Maps[0].Extent
	if v.Upright {
		width = e.Y1
		v.Long, v.High, v.Shape = coordinate(e.X1/unit), coordinate(e.Y1/unit), shapeOf(e.X1, e.Y1)
		v.Across, v.Up = planTicks(e.X1/unit, ticksAcross(e.X1, e.Y1)), upward(planTicks(e.Y1/unit, ticksAcross(e.Y1, e.X1)))
	}
	v.Box = rectView{coordinate(e.X0 / unit), coordinate((width - e.Y1) / unit), coordinate((e.X1 - e.X0) / unit), coordinate((e.Y1 - e.Y0) / unit)}
	h := sha256.New()
	for m, which := range figures.MapNames[:len(sheet.Maps)] {
		key := MapKey(PageMap(sheet, m))
		fmt.Fprintln(h, key)
		layer := layerView{Which: which, Key: key, Unit: u.Illuminance, NotKnown: strings.Contains(sheet.Maps[m].Title, "NOT KNOWN")}
		limits, colors := sheet.Maps[m].Bands()
		for k, c := range colors {
			layer.Bands = append(layer.Bands, bandView{fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B), fmt.Sprintf("%.6g", limits[k]), fmt.Sprintf("%.6g", limits[k+1])})
		}
		v.Layers = append(v.Layers, layer)
	}
	for _, c := range pointRules(r, g.Name) {
		fmt.Fprintln(h, c)
	}
	for _, side := range r.Sides {
		fmt.Fprintln(h, wording.Outside(side.Outside))
	}
	fmt.Fprintln(h, g.Name)
	v.Key = hex.EncodeToString(h.Sum(nil)[:10])
	v.Words = fmt.Sprintf("%s: light at %d by %d points, %s", g.Label(), g.NX, g.NY, u.Illuminance)
	return v
}

// LightPicture is a layer of a grid's light, a pixel a point, in the colors of its map.
func LightPicture(r *study.Result, i, layer int) image.Image {
	g := r.Existing().Grids[i]
	m := figures.LightSheet(r, i).Maps[layer]
	limits, colors := m.Bands()
	size := photometry.Footcandle
	if !r.Job.Imperial {
		size = 1
	}
	picture := image.NewNRGBA(image.Rect(0, 0, g.NX, g.NY))
	for k, lux := range m.Values {
		if math.IsNaN(lux) || len(colors) == 0 {
			continue // transparent
		}
		band, _ := slices.BinarySearch(limits, lux/size)
		c := colors[min(max(band-1, 0), len(colors)-1)]
		picture.SetNRGBA(k%g.NX, g.NY-1-k/g.NX, color.NRGBA{R: c.R, G: c.G, B: c.B, A: 255})
	}
	return picture
}

// LightValues are the values of a grid for whoever points at a place of it: in the job's units, as they are shown, row by row from the origin on,
// with a blank between two. "-" is a place without light to speak of, as in a rack.
type LightValues struct {
	Name, Unit, Length string
	X, Y               float64 // of the first point
	StepX, StepY       float64
	NX, NY             int
	Upright            bool
	Systems            []SystemLight
	Change             string // of the proposed against the existing
	Rules              []PointRule
}

// SystemLight is the light of a system, and why it is not known; "" where it is.
type SystemLight struct{ Name, Light, NotKnown string }

// A PointRule is a criterion of the grid, held against each point: 1 where a point by itself reaches it, 0 where it does not. Of an average that is
// no verdict: Point says whether it is asked of each point.
type PointRule struct {
	Words          string
	Point, AtLeast bool
	Held           []string // by each system
}

// ValuesOf are the values of a grid.
func ValuesOf(r *study.Result, i int) LightValues {
	e, p := r.Existing().Grids[i], r.Proposed().Grids[i]
	u := units.Of(r.Job)
	x, y := e.Coordinates()
	v := LightValues{Name: e.Label(), Unit: u.Illuminance, Length: u.Length, X: x[0] / u.Meter, Y: y[0] / u.Meter, StepX: e.StepX / u.Meter, StepY: e.StepY / u.Meter,
		NX: e.NX, NY: e.NY, Upright: e.Plane == room.Vertical}
	v.Rules = []PointRule{}
	shown := func(write func(k int) string) string {
		var b strings.Builder
		for k := range e.Maintained {
			if k > 0 {
				b.WriteByte(' ')
			}
			if math.IsNaN(e.Maintained[k]) || math.IsNaN(p.Maintained[k]) {
				b.WriteByte('-')
			} else {
				b.WriteString(write(k))
			}
		}
		return b.String()
	}
	for _, side := range r.Sides {
		light := shown(func(k int) string { return number.Digits(side.Grids[i].Maintained[k] / u.Lux) })
		v.Systems = append(v.Systems, SystemLight{side.Name, light, wording.Outside(side.Outside)})
	}
	v.Change = shown(func(k int) string {
		return strings.ReplaceAll(typeset.Text(number.Percent(e.Maintained[k], p.Maintained[k])), " ", "\u00a0")
	})
	for _, c := range pointRules(r, e.Name) {
		held := func(lux []float64) string {
			var b strings.Builder
			for _, x := range lux {
				b.WriteByte(map[bool]byte{true: '1', false: '0'}[c.Met(x)])
			}
			return b.String()
		}
		limit := map[bool]string{true: "at least ", false: "at most "}[c.AtLeast] + typeset.Text(wording.Quantity(r.Job, c.Criterion, c.RequiredIn(false), 0))
		rule := PointRule{Words: c.Statistic.Words() + " of " + limit, Point: c.Statistic != levels.Average, AtLeast: c.AtLeast}
		for _, side := range r.Sides {
			rule.Held = append(rule.Held, held(side.Grids[i].Maintained))
		}
		v.Rules = append(v.Rules, rule)
	}
	return v
}

// pointRules are the criteria of a grid that a point can be held against.
func pointRules(r *study.Result, grid string) []study.Verdict {
	var all []study.Verdict
	for _, c := range r.Verdicts {
		if c.Grid == grid && (c.Statistic == levels.Average || c.Statistic == levels.Minimum || c.Statistic == levels.Maximum) {
			all = append(all, c)
		}
	}
	return all
}

// LightKeys are the digests under which the layers and the values of a grid are kept.
func LightKeys(r *study.Result, i int) []string {
	v := lightViewOf(r, i, figures.LightSheet(r, i))
	keys := []string{v.Key}
	for _, l := range v.Layers {
		keys = append(keys, l.Key)
	}
	return keys
}
