package lm63

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"lampswap/photometry"
)

// The forms are from memory of the standard, unverified; see File.shape.
func TestShapes(t *testing.T) {
	const (
		foreign = "a form of another edition"
		along   = "horizontal cylinder along the 0-degree plane"
		across  = "horizontal cylinder across the 0-degree plane"
	)
	rect := func(l, w, h float64) photometry.Opening { return photometry.Opening{Length: l, Width: w, Height: h} }
	oval := func(l, w, h float64) photometry.Opening {
		return photometry.Opening{Shape: photometry.Elliptic, Length: l, Width: w, Height: h}
	}
	for _, c := range []struct {
		edition               Edition
		width, length, height float64
		shape                 string
		opening               photometry.Opening
		odd                   string
	}{
		{Edition2002, 0, 0, 0, "point", rect(0, 0, 0), ""},
		{Edition2002, 1, 4, 0, "rectangular", rect(4, 1, 0), ""},
		{Edition1986, 1, 4, 0, "rectangular", rect(4, 1, 0), ""},
		{Edition2002, 1, 4, 0.5, "rectangular with luminous sides", rect(4, 1, 0.5), ""},
		{Edition2002, 0, 4, 0, "line", rect(4, 0, 0), ""},
		{Edition2002, 1, 0, 0, "line", rect(0, 1, 0), ""},
		{Edition2002, 0, 4, 0.5, "rectangular with luminous sides", rect(4, 0, 0.5), ""},
		{Edition2002, 0, 0, 0.5, "upright line", rect(0, 0, 0.5), ""},
		{Edition2002, 1, 4, -1, "rectangular with luminous sides", rect(4, 1, 1), "no form of the standard: the height is taken as positive"},
		{Edition2002, 0, 0, -1, "rectangular with luminous sides", rect(0, 0, 1), "no form of the standard: the height is taken as positive"},

		{Edition2019, -2, -2, 0, "circular", oval(2, 2, 0), ""},
		{Edition2002, -1, -2, 0, "elliptic", oval(2, 1, 0), ""},
		{Edition2002, -2, -2, 3, "upright cylinder", oval(2, 2, 3), ""},
		{Edition2002, -1, -2, 3, "upright elliptic cylinder", oval(2, 1, 3), ""},
		{Edition2002, -2, -2, -2, "sphere", oval(2, 2, 2), ""},
		{Edition2002, -2, -2, -1, "spheroid", oval(2, 2, 1), ""},
		{Edition2002, -0.1, 4, -0.1, along, rect(4, 0.1, 0.1), ""},
		{Edition2002, 4, -0.1, -0.1, across, rect(0.1, 4, 0.1), ""},
		{Edition2002, -2, 0, -2, "upright disc facing along the 0-degree plane", oval(0, 2, 2), ""},

		{Edition1991, -2, 0, 0, "circular", oval(2, 2, 0), ""},
		{Edition1991, -2, 0, 3, "upright cylinder", oval(2, 2, 3), ""},
		{Edition1995, -2, 0, -2, "sphere", oval(2, 2, 2), ""},
		{Edition1995, -1, 2, 0, "elliptic", oval(2, 1, 0), ""},
		{Edition1995, 2, -1, 0, "elliptic", oval(1, 2, 0), ""},
		{Edition1995, -1, 2, 3, "upright elliptic cylinder", oval(2, 1, 3), ""},
		{Edition1986, 0, 4, -0.1, along, rect(4, 0.1, 0.1), ""},
		{Edition1986, 4, 0, -0.1, across, rect(0.1, 4, 0.1), ""},

		{Edition1991, -2, -2, 0, "circular", oval(2, 2, 0), foreign},
		{Edition1995, -0.1, 4, -0.1, along, rect(4, 0.1, 0.1), foreign},
		{Edition2002, -2, 0, 0, "circular", oval(2, 2, 0), foreign},
		{Edition1995, 0, -2, 0, "circular", oval(2, 2, 0), foreign},
		{Edition2002, -1, 2, 0, "elliptic", oval(2, 1, 0), foreign},
		{Edition2002, 0, 4, -0.1, along, rect(4, 0.1, 0.1), foreign},
		{Edition2002, 4, 0, -0.1, across, rect(0.1, 4, 0.1), foreign},
		{Edition2002, 0, -2, -2, "upright disc facing across the 0-degree plane", oval(2, 0, 2), "no form of the standard: taken as one turned by 90 degrees"},
	} {
		f := &File{Edition: c.edition, Units: Metres, Width: c.width, Length: c.length, Height: c.height}
		_, _, odd := f.shape()
		assert.Equal(t, c.shape, f.Shape(), "%+v", c)
		assert.Equal(t, c.opening, f.opening(), "%+v", c)
		assert.Equal(t, c.odd, odd, "%+v", c)
		f.Units = Feet
		assert.Equal(t, c.opening.Length*0.3048, f.opening().Length, "%+v", c)
	}
}

// Every combination of signs has a meaning, of the magnitudes in the file and no less.
func TestEverySignHasAShape(t *testing.T) {
	signs := []float64{-1, 0, 1}
	for _, edition := range []Edition{Edition1986, Edition2019} {
		for _, w := range signs {
			for _, l := range signs {
				for _, h := range signs {
					f := &File{Edition: edition, Units: Metres, Width: 2 * w, Length: 3 * l, Height: 0.5 * h}
					o := f.opening()
					assert.NotEmpty(t, f.Shape())
					assert.GreaterOrEqual(t, o.Length, 3*max(l, -l))
					assert.GreaterOrEqual(t, o.Width, 2*max(w, -w))
					assert.Equal(t, 0.5*max(h, -h), o.Height)
				}
			}
		}
	}
}
