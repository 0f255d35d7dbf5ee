package paper

import (
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// A Picture is an image canvas that fills the outlines of letters. The canvas beneath turns a picture of each letter, which blurs turned text until a minus
// is gone.
type Picture struct{ *vgimg.Canvas }

// FillString draws text with its baseline at a point.
func (c Picture) FillString(f font.Face, at vg.Point, s string) { c.Fill(textPath(f, at, s)) }

// textPath returns the outlines of a line of text.
func textPath(f font.Face, at vg.Point, s string) vg.Path {
	var (
		buffer sfnt.Buffer
		path   vg.Path
		last   sfnt.GlyphIndex
	)
	em := fixed.Int26_6(f.Face.UnitsPerEm()) // outlines in the font's own units
	unit := f.Font.Size / vg.Length(em)
	for i, r := range []rune(s) {
		glyph, err := f.Face.GlyphIndex(&buffer, r)
		if err != nil {
			continue
		}
		if i > 0 {
			if kern, err := f.Face.Kern(&buffer, last, glyph, em, xfont.HintingNone); err == nil {
				at.X += vg.Length(kern) * unit
			}
		}
		last = glyph
		if segments, err := f.Face.LoadGlyph(&buffer, glyph, em, nil); err == nil {
			path = append(path, glyphPath(segments, at, unit)...)
		}
		if advance, err := f.Face.GlyphAdvance(&buffer, glyph, em, xfont.HintingNone); err == nil {
			at.X += vg.Length(advance) * unit
		}
	}
	return path
}

func glyphPath(segments sfnt.Segments, at vg.Point, unit vg.Length) vg.Path {
	var path vg.Path
	place := func(p fixed.Point26_6) vg.Point {
		return vg.Point{X: at.X + vg.Length(p.X)*unit, Y: at.Y - vg.Length(p.Y)*unit}
	}
	for i, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				path.Close()
			}
			path.Move(place(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			path.Line(place(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			path.QuadTo(place(s.Args[0]), place(s.Args[1]))
		case sfnt.SegmentOpCubeTo:
			path.CubeTo(place(s.Args[0]), place(s.Args[1]), place(s.Args[2]))
		}
	}
	if len(path) > 0 {
		path.Close()
	}
	return path
}
