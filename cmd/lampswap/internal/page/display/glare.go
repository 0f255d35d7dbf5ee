package display

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"gonum.org/v1/plot/vg"

	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/photometry/glare"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/study"
	"lampswap/plots"
)

// A glareView is who looks at the room and how much that glares, with the plan of them.
type glareView struct {
	Plan mapView
	Rows []statView
}

// GlarePlan is the plan of observers as the page shows it; ok is false where nobody looks.
func GlarePlan(r *study.Result) (figure plots.Glare, key string, ok bool) {
	figure, ok = figures.Glare(r)
	figure.Title = ""
	shown := figure
	north := "none"
	if shown.NorthDeg != nil {
		north = fmt.Sprint(*shown.NorthDeg)
	}
	shown.NorthDeg = nil
	sum := sha256.Sum256(fmt.Appendf(nil, "%+v north %s", shown, north))
	return figure, hex.EncodeToString(sum[:10]), ok
}

// glareOf is what the page shows of glare; nil where nobody looks.
func glareOf(r *study.Result) *glareView {
	figure, key, ok := GlarePlan(r)
	if !ok {
		return nil
	}
	width := MapWidths["wide"] * vg.Inch
	v := &glareView{Plan: mapView{Which: "plan", Title: "Who looks where", Words: figure.Describe(), Key: key, Width: 1000, Height: int(1000 * figure.Height(width) / width)}}
	rating := func(seen lighting.Seen) string {
		ugr, why := seen.Rating()
		if why != glare.Rated {
			return string(why)
		}
		return number.Fixed(ugr, 1)
	}
	for i, o := range r.Job.Observers {
		row := statView{Name: o.Name}
		for _, side := range r.Sides {
			row.Values = append(row.Values, rating(side.Observers[i]))
		}
		v.Rows = append(v.Rows, row)
	}
	return v
}
