package document

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png" // a screenshot, or a drawing

	"golang.org/x/image/draw"

	"lampswap/cmd/lampswap/internal/document/svg"
)

const (
	mostPixels  = 100e6 // of a picture that is opened: a few times what a camera makes
	longestSide = 1200  // pixels, of a picture in a report
	quality     = 80    // of JPEG
)

// PictureOf makes a photograph, JPEG or PNG, or a logo that may be an SVG file, ready for a report: upright, no larger than paper shows, and without what else is in its file,
// such as where it was taken.
func PictureOf(content []byte, caption string) (Picture, error) {
	size, _, err := image.DecodeConfig(bytes.NewReader(content))
	if why := svg.Reason(err); why != "" {
		return Picture{}, fmt.Errorf("is not drawn: %s", why)
	}
	if err != nil {
		return Picture{}, fmt.Errorf("is no picture in JPEG or PNG: %w", err)
	}
	if size.Width < 1 || size.Height < 1 || float64(size.Width)*float64(size.Height) > mostPixels {
		return Picture{}, fmt.Errorf("has %d x %d pixels", size.Width, size.Height)
	}
	whole, _, err := image.Decode(bytes.NewReader(content))
	if err != nil {
		return Picture{}, fmt.Errorf("is a broken picture: %w", err)
	}
	small := upright(shrunk(whole), orientation(content))
	var b bytes.Buffer
	if err := jpeg.Encode(&b, small, &jpeg.Options{Quality: quality}); err != nil {
		return Picture{}, err
	}
	return Picture{JPEG: b.Bytes(), Width: small.Bounds().Dx(), Height: small.Bounds().Dy(), Caption: caption}, nil
}

// shrunk is a picture on white with no side longer than longestSide.
func shrunk(whole image.Image) *image.RGBA {
	r := whole.Bounds()
	by := min(1, longestSide/float64(max(r.Dx(), r.Dy())))
	small := image.NewRGBA(image.Rect(0, 0, max(1, int(by*float64(r.Dx()))), max(1, int(by*float64(r.Dy())))))
	draw.Draw(small, small.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	draw.ApproxBiLinear.Scale(small, small.Bounds(), whole, r, draw.Over, nil)
	return small
}

// upright turns a picture by the orientation of its camera: 3 upside down, 6 to be turned clockwise, 8 counter-clockwise. Mirrored ones, which
// no camera makes, stay.
func upright(p *image.RGBA, orientation int) *image.RGBA {
	w, h := p.Bounds().Dx(), p.Bounds().Dy()
	turned := image.NewRGBA(image.Rect(0, 0, h, w))
	from := func(x, y int) (int, int) { return y, h - 1 - x }
	switch orientation {
	case 3:
		turned = image.NewRGBA(p.Bounds())
		from = func(x, y int) (int, int) { return w - 1 - x, h - 1 - y }
	case 6:
	case 8:
		from = func(x, y int) (int, int) { return w - 1 - y, x }
	default:
		return p
	}
	for y := range turned.Bounds().Dy() {
		for x := range turned.Bounds().Dx() {
			sx, sy := from(x, y)
			turned.SetRGBA(x, y, p.RGBAAt(sx, sy))
		}
	}
	return turned
}

// orientation is what a JPEG's Exif says of how the camera was held (tag 0x0112 of the first directory), 1 where it says nothing. Source:
// the Exif standard, CIPA DC-008, from memory.
func orientation(content []byte) int {
	const plain, tag = 1, 0x0112
	_, exif, found := bytes.Cut(content[:min(len(content), 1<<16)], []byte("Exif\x00\x00"))
	if !found || len(exif) < 8 {
		return plain
	}
	var order binary.ByteOrder = binary.BigEndian
	if exif[0] == 'I' {
		order = binary.LittleEndian
	}
	at := int(order.Uint32(exif[4:]))
	if at < 8 || at > len(exif)-2 {
		return plain
	}
	entries := exif[at+2:]
	for range order.Uint16(exif[at:]) {
		if len(entries) < 12 {
			break
		}
		if order.Uint16(entries) == tag {
			return int(order.Uint16(entries[8:]))
		}
		entries = entries[12:]
	}
	return plain
}
