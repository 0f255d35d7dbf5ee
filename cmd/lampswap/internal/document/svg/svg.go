// Package svg draws a logo that is an SVG file as a picture of points, or says what in it cannot be drawn. It is drawn whole and right or not at all:
// only what the drawing below is sure to show is let through, rewritten plainly, to the rasterizer (oksvg on rasterx). There are no scripts, no
// references but to gradients of the file, no entities, no text (whose letters are not in the file), no filters, masks or pictures.
//
// It registers itself with package image, so that image.Decode takes such files as it takes JPEG and PNG.
package svg

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"io"
	"math"
	"slices"

	"github.com/fyne-io/oksvg"
	"github.com/srwiley/rasterx"
)

// Bounds of a file.
const (
	mostBytes    = 512 << 10
	mostElements = 2000
	mostNumbers  = 200_000 // of all paths and points
	mostDepth    = 50
	longestSide  = 1200 // pixels
	mostSlender  = 50   // times as long as it is high, or the other way round
	mostOutside  = 20   // times the drawing's size that a place may be away from its corner
	mostPainted  = 100  // times the picture's pixels, of all shapes together
)

// Format is the name of the format in package image.
const Format = "svg"

func init() {
	for _, begin := range []string{"<svg", "<?xml", "<!--", "\xef\xbb\xbf<", "\n<", "\r\n<", " <"} {
		image.RegisterFormat(Format, begin, Decode, DecodeConfig)
	}
}

// An Error says why a file is not drawn.
type Error struct {
	Line int // 0 where it is of the whole file
	Text string
}

func (e *Error) Error() string {
	if e.Line == 0 {
		return e.Text
	}
	return fmt.Sprintf("line %d: %s", e.Line, e.Text)
}

// DecodeConfig returns the size of the picture that Decode makes. It errs as Decode does, but for what only drawing shows.
func DecodeConfig(r io.Reader) (image.Config, error) {
	c, err := read(r)
	if err != nil {
		return image.Config{}, err
	}
	width, height := c.size()
	return image.Config{ColorModel: color.RGBAModel, Width: width, Height: height}, nil
}

// Decode draws a file on transparent ground, its longer side 1,200 pixels. It errs with an *Error where it has what is not sure to be drawn right.
func Decode(r io.Reader) (picture image.Image, err error) {
	c, err := read(r)
	if err != nil {
		return nil, err
	}
	defer func() { // of the rasterizer, which trusts its input
		if recover() != nil {
			picture, err = nil, errUndrawn
		}
	}()
	width, height := c.size()
	icon := c.icon
	c.complete(icon)
	points := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(points, points.Bounds(), image.Transparent, image.Point{}, draw.Src)
	by := longestSide / math.Max(c.box[2], c.box[3])
	icon.Transform = rasterx.Identity.Scale(by, by).Translate(-c.box[0], -c.box[1])
	fill := newFiller(points)
	icon.Draw(rasterx.NewDasher(width, height, fill), 1)
	if fill.painted > mostPainted*width*height {
		return nil, &Error{Text: "it has too many large shapes, one over the other"}
	}
	return points, nil
}

// read reads a file as far as it is let through.
func read(r io.Reader) (*cleaner, error) {
	content, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return nil, err
	}
	if len(content) > mostBytes {
		return nil, &Error{Text: fmt.Sprintf("it has more than %d KB", mostBytes>>10)}
	}
	c := &cleaner{content: bytes.TrimPrefix(content, []byte("\xef\xbb\xbf"))}
	if err := c.clean(); err != nil {
		return nil, err
	}
	return c, c.parse()
}

var errUndrawn = &Error{Text: "it cannot be drawn"}

// parse has the rasterizer read what is written for it.
func (c *cleaner) parse() (err error) {
	defer func() {
		if recover() != nil {
			err = errUndrawn
		}
	}()
	if c.icon, err = oksvg.ReadIconStream(bytes.NewReader(c.plain.Bytes()), oksvg.StrictErrorMode); err != nil {
		return &Error{Text: "it cannot be drawn: " + err.Error()}
	}
	if len(c.icon.SVGPaths) != len(c.shapes) {
		return &Error{Text: "it has shapes without an extent"}
	}
	return nil
}

// size is that of the picture, in pixels.
func (c *cleaner) size() (width, height int) {
	by := longestSide / math.Max(c.box[2], c.box[3])
	return max(1, int(math.Round(by*c.box[2]))), max(1, int(math.Round(by*c.box[3])))
}

// complete gives the rasterizer of every shape what it does not read: by which rule it is filled, and that its stroke grows with it.
func (c *cleaner) complete(icon *oksvg.SvgIcon) {
	by := longestSide / math.Max(c.box[2], c.box[3])
	for i, s := range c.shapes {
		path := &icon.SVGPaths[i]
		path.UseNonZeroWinding = !s.evenOdd
		grown := by * s.matrix.scale()
		path.LineWidth *= grown
		path.DashOffset *= grown
		path.Dash = slices.Clone(path.Dash)
		for k := range path.Dash {
			path.Dash[k] *= grown
		}
	}
}

var errEmpty = &Error{Text: "nothing in it is drawn"}

// Reason is why a file is no picture, where it is an SVG file; "" where it is none.
func Reason(err error) string {
	if e, is := errors.AsType[*Error](err); is {
		return e.Error()
	}
	return ""
}
