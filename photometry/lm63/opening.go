package lm63

import (
	"fmt"
	"math"

	"lampswap/photometry"
)

// Shape says in words what the width, length and height of the file mean: "rectangular", "circular", "sphere" and so on.
func (f *File) Shape() string {
	shape, _, _ := f.shape()
	return shape
}

// Size says how large the luminous opening is, in the file's units: a diameter where it is round, whatever stands for that in the file.
func (f *File) Size() string {
	_, o, _ := f.shape()
	unit := " ft"
	if f.Units == Metres {
		unit = " m"
	}
	text := fmt.Sprintf("%g x %g", o.Length, o.Width)
	if d, round := f.Diameter(); round {
		text = fmt.Sprintf("diameter %g", d)
	}
	if o.Height > 0 {
		text += fmt.Sprintf(" x %g high", o.Height)
	}
	return text + unit
}

// Diameter is that of an opening which is round in plan, in the file's units; round is false for any other.
func (f *File) Diameter() (diameter float64, round bool) {
	_, o, _ := f.shape()
	return o.Length, o.Shape == photometry.Elliptic && o.Length == o.Width && o.Length > 0
}

// shape reduces the luminous dimensions to an opening, in the file's units. odd says why the reading is a guess, "" if it is none.
//
// LM-63-2002 and -2019: both plan dimensions negative is a circle or an ellipse, with a height above 0 an upright cylinder, below 0
// a sphere or spheroid; one of width and length negative and the height too is a cylinder that lies along the positive one; length 0 and
// the others negative is an upright disc that faces along the 0-degree plane. Up to 1995 a circle is a negative width with length 0, a
// sphere has the height negative too, an ellipse has one negative dimension and lies along the positive one, a lying cylinder has its
// negative diameter as height and 0 across. From memory, unverified. The forms of other editions are taken where they are not ambiguous.
func (f *File) shape() (name string, o photometry.Opening, odd string) {
	old := f.Edition <= Edition1995
	w, l, h := math.Abs(f.Width), math.Abs(f.Length), math.Abs(f.Height)
	foreign := func(foreign bool) string {
		if foreign {
			return "a form of another edition"
		}
		return ""
	}
	switch {
	case f.Width >= 0 && f.Length >= 0:
		return f.straight(w, l, h)
	case f.Width <= 0 && f.Length <= 0 && f.Width*f.Length == 0:
		return f.half(w, l, h, old)
	case f.Width < 0 && f.Length < 0:
		return round(w, l, f.Height), photometry.Opening{Shape: photometry.Elliptic, Length: l, Width: w, Height: h}, foreign(old)
	case f.Height < 0:
		name = "horizontal cylinder along the 0-degree plane"
		if f.Length < 0 {
			name = "horizontal cylinder across the 0-degree plane"
		}
		return name, photometry.Opening{Length: l, Width: w, Height: h}, foreign(old)
	default:
		return round(w, l, f.Height), photometry.Opening{Shape: photometry.Elliptic, Length: l, Width: w, Height: h}, foreign(!old)
	}
}

// straight is the shape where neither width nor length is negative.
func (f *File) straight(w, l, h float64) (name string, o photometry.Opening, odd string) {
	o = photometry.Opening{Length: l, Width: w, Height: h}
	lying := f.Height < 0 && (w == 0) != (l == 0)
	switch {
	case w == 0 && l == 0 && h == 0:
		return "point", o, ""
	case lying && l > 0:
		o.Width = h
		name = "horizontal cylinder along the 0-degree plane"
	case lying:
		o.Length = h
		name = "horizontal cylinder across the 0-degree plane"
	case f.Height < 0:
		return "rectangular with luminous sides", o, "no form of the standard: the height is taken as positive"
	case w == 0 && l == 0:
		return "upright line", o, ""
	case h > 0:
		return "rectangular with luminous sides", o, ""
	case w == 0 || l == 0:
		return "line", o, ""
	default:
		return "rectangular", o, ""
	}
	if f.Edition > Edition1995 {
		odd = "a form of another edition"
	}
	return name, o, odd
}

// half is the shape where one of width and length is negative and the other 0.
func (f *File) half(w, l, h float64, old bool) (name string, o photometry.Opening, odd string) {
	o = photometry.Opening{Shape: photometry.Elliptic, Length: l, Width: w, Height: h}
	if f.Height < 0 && !(old && l == 0) {
		name = "upright disc facing along the 0-degree plane"
		if l > 0 {
			name, odd = "upright disc facing across the 0-degree plane", "no form of the standard: taken as one turned by 90 degrees"
		}
		return name, o, odd
	}
	diameter := math.Max(w, l)
	o.Length, o.Width = diameter, diameter
	if !old || l > 0 {
		odd = "a form of another edition"
	}
	return round(diameter, diameter, f.Height), o, odd
}

// round names a shape that is round in plan, of two diameters and a signed height.
func round(w, l, height float64) string {
	switch equal := w == l; {
	case height == 0 && equal:
		return "circular"
	case height == 0:
		return "elliptic"
	case height > 0 && equal:
		return "upright cylinder"
	case height > 0:
		return "upright elliptic cylinder"
	case equal && w == math.Abs(height):
		return "sphere"
	}
	return "spheroid"
}

// opening is the luminous opening in m.
func (f *File) opening() photometry.Opening {
	_, o, _ := f.shape()
	if f.Units == Feet {
		o.Length, o.Width, o.Height = o.Length*photometry.Foot, o.Width*photometry.Foot, o.Height*photometry.Foot
	}
	return o
}
