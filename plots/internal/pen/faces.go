package pen

import (
	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// The two faces of all figures are put into the cache from which canvases and documents take them. Package plot of Gonum would put
// twelve there, 3.4 MB that nothing here draws with.
func init() {
	for weight, outlines := range map[xfont.Weight][]byte{xfont.WeightNormal: liberationsansregular.TTF, xfont.WeightBold: liberationsansbold.TTF} {
		parsed, err := opentype.Parse(outlines)
		if err != nil {
			panic("pen: " + err.Error())
		}
		font.DefaultCache.Add(font.Collection{{Font: sans(0, weight), Face: parsed}})
	}
}

func sans(size vg.Length, weight xfont.Weight) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Weight: weight, Size: size}
}
