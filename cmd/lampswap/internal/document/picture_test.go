package document

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawn is a picture whose left half is black and whose right half is white.
func drawn(w, h int) image.Image {
	p := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := w / 2; x < w; x++ {
			p.SetGray(x, y, color.Gray{Y: 255})
		}
	}
	return p
}

// exif is a JPEG that says how its camera was held, little-endian.
func exif(t *testing.T, p image.Image, orientation byte) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, p, nil))
	head := append([]byte("Exif\x00\x00II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00"), orientation, 0, 0, 0, 0, 0, 0, 0)
	size := len(head) + 2
	segment := append([]byte{0xff, 0xe1, byte(size >> 8), byte(size)}, head...)
	return append(append(append([]byte{}, b.Bytes()[:2]...), segment...), b.Bytes()[2:]...)
}

// A picture comes out upright and small enough, and what is no picture is said to be none.
func TestPictureOf(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, drawn(3000, 1500)))
	p, err := PictureOf(b.Bytes(), "r1")
	require.NoError(t, err)
	assert.Equal(t, [2]int{1200, 600}, [2]int{p.Width, p.Height})

	dark := func(p []byte, x, y int) bool {
		shown, err := jpeg.Decode(bytes.NewReader(p))
		require.NoError(t, err)
		r, _, _, _ := shown.At(x, y).RGBA()
		return r < 0x4000
	}
	for orientation, where := range map[byte][2]int{1: {2, 20}, 3: {77, 20}, 6: {20, 2}, 8: {20, 77}} {
		p, err := PictureOf(exif(t, drawn(80, 40), orientation), "r1")
		require.NoError(t, err)
		assert.True(t, dark(p.JPEG, where[0], where[1]), "%d: the left of the camera's picture", orientation)
		assert.Equal(t, orientation >= 6, p.Height == 80, "%d", orientation)
		assert.NotContains(t, string(p.JPEG), "Exif")
	}
	for _, wrong := range [][]byte{nil, []byte("GIF89a"), b.Bytes()[:200]} {
		_, err := PictureOf(wrong, "")
		assert.Error(t, err)
	}
}

func FuzzOrientation(f *testing.F) {
	f.Add([]byte("Exif\x00\x00II*\x00\x08\x00\x00\x00\x01\x00"))
	f.Fuzz(func(_ *testing.T, content []byte) { orientation(content) })
}
