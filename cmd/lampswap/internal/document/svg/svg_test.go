package svg

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawings are invented logos, each with what files of drawing programs have.
var drawings = map[string]string{
	"shapes": `<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "about:blank">
<svg xmlns="http://www.w3.org/2000/svg" width="200" height="100"><title>Two ladders</title><metadata><x xmlns="urn:x">no</x></metadata>
<rect x="10" y="10" width="50" height="60" rx="12" fill="#0a5a6b"/><circle cx="100" cy="45" r="30" style="fill:orange;stroke:#333;stroke-width:6"/>
<ellipse cx="160" cy="45" rx="25" ry="12" fill="none" stroke="rgb(20, 60, 200)" stroke-width="3"/><line x1="10" y1="90" x2="190" y2="90" stroke="black"/>
<polygon points="70,80 80,95 60,95" fill="#c00"/><polyline points="140 75,180 85" stroke="green" stroke-width="4" fill="none"/></svg>`,
	"moved": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-20 -20 240 140"><g transform="translate(20,10) scale(.5)"><g transform="rotate(20 60 60)">
<rect width="100" height="60" fill="#884400" stroke="#000" stroke-width="8" stroke-linejoin="round"/></g><path transform="matrix(1 0 .3 1 100 20)" d="M10 10h60v40H10z" fill="#2a7"/></g>
<g transform="scale(2)"><path d="M80 10c10-10,20-10,30 0s-5,30-15 35S70,20 80 10" fill="#55f" fill-opacity="0.5" stroke="#006" stroke-dasharray="4 2"/></g></svg>`,
	"arcs and holes": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><defs><style>/* of two */ .a{fill:#123456} .b , .c { fill-rule : evenodd ; fill:#e33 }</style></defs>
<path class="a" d="M10 50A40 40 0 1190 50 40 40 0 0110 50zM30 50A20 20 0 0070 50 20 20 0 0030 50z"/>
<path class="b" d="M40 40h20v20h-20zM45 45h10v10h-10z"/><path class="c" style="fill:#0a0" d="M5 5l20 0 0 20-20 0zm5 5l0 10 10 0 0-10z"/></svg>`,
	"faded": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 60"><linearGradient id="g" x1="0" y1="0" x2="1" y2="1"><stop offset="0%" stop-color="#f80"/><stop offset="1" style="stop-color:#08f"/></linearGradient>
<radialGradient id="r"><stop offset="0" stop-color="white"/><stop offset="1" stop-color="#063"/></radialGradient>
<rect x="5" y="5" width="50" height="50" fill="url(#g)"/><circle cx="90" cy="30" r="25" fill="url(#r)"/></svg>`,
}

// What is drawn is what a browser draws, but for the smoothing of edges: of 256 steps of a color 2 on average.
func TestDrawsAsABrowserDoes(t *testing.T) {
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		require.NotEqual(t, "1", os.Getenv("LAMPSWAP_REQUIRE_TOOLS"), "no chromium is installed")
		t.Skip("no chromium is installed")
	}
	ours := map[string]image.Image{}
	for name, text := range drawings {
		ours[name], err = Decode(strings.NewReader(text))
		require.NoError(t, err, name)
	}
	for name, theirs := range browserDraws(t, chromium, ours) {
		ours := ours[name]
		sum, worst := 0.0, 0.0
		for y := range ours.Bounds().Dy() {
			for x := range ours.Bounds().Dx() {
				d := apart(over(ours.At(x, y)), over(theirs.At(x, y)))
				sum += d
				worst = math.Max(worst, d)
			}
		}
		mean := sum / float64(ours.Bounds().Dx()*ours.Bounds().Dy())
		t.Logf("%s: %.2f of 256 apart on average, %.0f at most", name, mean, worst)
		assert.Less(t, mean, 2.0, name)
		if keep := os.Getenv("LAMPSWAP_KEEP"); keep != "" {
			for which, picture := range map[string]image.Image{"ours": ours, "theirs": theirs} {
				var b bytes.Buffer
				require.NoError(t, png.Encode(&b, picture))
				require.NoError(t, os.WriteFile(filepath.Join(keep, name+"-"+which+".png"), b.Bytes(), 0o644))
			}
		}
	}
}

// over is a color on white.
func over(c color.Color) [3]float64 {
	r, g, b, a := c.RGBA()
	white := 65535 - a
	return [3]float64{float64(r+white) / 257, float64(g+white) / 257, float64(b+white) / 257}
}

func apart(a, b [3]float64) float64 {
	return (math.Abs(a[0]-b[0]) + math.Abs(a[1]-b[1]) + math.Abs(a[2]-b[2])) / 3
}

// browserDraws has the browser, which takes longer to start than to draw, draw all of them on one page, one below the other.
func browserDraws(t *testing.T, chromium string, like map[string]image.Image) map[string]image.Image {
	t.Helper()
	folder := t.TempDir()
	page, places, width, top := `<body style="margin:0;background:white">`, map[string]image.Rectangle{}, 0, 0
	for i, name := range slices.Sorted(maps.Keys(like)) {
		size := like[name].Bounds()
		require.NoError(t, os.WriteFile(filepath.Join(folder, fmt.Sprint(i, ".svg")), []byte(drawings[name]), 0o644))
		page += fmt.Sprintf(`<img src="%d.svg" style="display:block;width:%dpx;height:%dpx">`, i, size.Dx(), size.Dy())
		places[name] = size.Add(image.Pt(0, top))
		width, top = max(width, size.Dx()), top+size.Dy()
	}
	require.NoError(t, os.WriteFile(filepath.Join(folder, "a.html"), []byte(page), 0o644))
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	out := filepath.Join(folder, "a.png")
	said, err := exec.CommandContext(ctx, chromium, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--force-device-scale-factor=1", "--user-data-dir="+filepath.Join(folder, "home"), //nolint:gosec // our own files
		fmt.Sprintf("--window-size=%d,%d", width, top+200), "--screenshot="+out, "file://"+filepath.Join(folder, "a.html")).CombinedOutput()
	require.NoError(t, err, string(said))
	content, err := os.ReadFile(out)
	require.NoError(t, err)
	picture, err := png.Decode(bytes.NewReader(content))
	require.NoError(t, err)
	all := map[string]image.Image{}
	for name, place := range places {
		cut := image.NewRGBA(like[name].Bounds())
		draw.Draw(cut, cut.Bounds(), picture, place.Min, draw.Src)
		all[name] = cut
	}
	return all
}

func within(inner string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 50">` + "\n" + inner + `</svg>`
}

const square = `<rect width="10" height="10"/>`

// What is not sure to be drawn right is refused, with its line and name.
func TestRefusesWhatItDoesNotDraw(t *testing.T) {
	for text, want := range map[string]string{
		within(`<text x="1" y="9">Firm</text>`):                                               `line 2: "text" is not drawn here`,
		within(`<image href="a.png"/>`):                                                       `line 2: "image" is not drawn here`,
		within(`<use href="#a"/>`):                                                            `line 2: "use" is not drawn here`,
		within(`<filter id="f"/>` + square):                                                   `line 2: "filter" is not drawn here`,
		within(`<clipPath id="c">` + square + `</clipPath>`):                                  `line 2: "clipPath" is not drawn here`,
		within(`<rect width="9" height="9" clip-path="url(#c)"/>`):                            `line 2: clip-path = "url(#c)" is not drawn here`,
		within(`<rect width="9" height="9" style="mask:url(#m)"/>`):                           `line 2: mask = "url(#m)" is not drawn here`,
		within(`<rect width="9" height="9" fill="url(#nowhere)"/>`):                           `line 2: fill = "url(#nowhere)" is not drawn here`,
		within(`<rect width="9" height="9" fill="url(http://a/b#c)"/>`):                       `line 2: fill = "url(http://a/b#c)" is not drawn here`,
		within(`<rect width="9" height="9" fill="rgba(1,2,3,0.5)"/>`):                         `line 2: fill = "rgba(1,2,3,0.5)" is not drawn here`,
		within(`<rect width="9" height="9" fill="nocolor"/>`):                                 `it cannot be drawn: `,
		within(`<g opacity="0.5">` + square + `</g>`):                                         `line 2: opacity = "0.5" is not drawn here`,
		within(`<rect width="50%" height="9"/>`):                                              `line 2: width = "50%" is not drawn here`,
		within(`<rect width="9em" height="9"/>`):                                              `line 2: width = "9em" is not drawn here`,
		within(`<rect width="0" height="9"/>`):                                                `it has shapes without an extent`,
		within(`<g transform="scale(1,3)"><path d="M0 0h9" stroke="red"/></g>`):               `line 2: it has a line that is stretched one way`,
		within(`<linearGradient id="a" gradientUnits="userSpaceOnUse"/>`):                     `line 2: gradientUnits = "userSpaceOnUse" is not drawn here`,
		within(`<linearGradient id="a" xmlns:x="http://www.w3.org/1999/xlink" x:href="#b"/>`): `line 2: it refers to something from linearGradient`,
		within(`<style>g > rect {fill:red}</style>` + square):                                 `line 2: it has styles for what is no class`,
		within(`<style>@import "a.css";</style>` + square):                                    `line 2: it has styles for what is no class`,
		within(`<script>alert(1)</script>` + square):                                          `line 2: it has a script`,
		within(`<rect width="9" height="9" onclick="alert(1)"/>`):                             `line 2: it has a script`,
		within(`Firm`): `line 2: it has text between its elements`,
		within(``):     `nothing in it is drawn`,
		within(`<g display="none">` + square + `</g>`):                                              `nothing in it is drawn`,
		within(`<path d="M0 0 L 1e9 0"/>`):                                                          `line 2: a path in it has "1e9", too far`,
		within(`<path d="M0 0 L 1 nan"/>`):                                                          `line 2: a path in it is not understood`,
		within(`<path stroke-dasharray="0.0001" d="M0 0 L 9 9"/>`):                                  `line 2: stroke-dasharray = "0.0001" is not drawn here`,
		within(strings.Repeat(`<g transform="scale(10)">`, 9) + square + strings.Repeat(`</g>`, 9)): `line 2: width = "10" is not drawn here`,
		within(strings.Repeat(`<g>`, 60) + square + strings.Repeat(`</g>`, 60)):                     `line 2: it has elements more than 50 deep`,
		within(strings.Repeat(square, 2001)):                                                        `line 2: it has more than 2000 elements`,
		within(strings.Repeat(" ", 600<<10)):                                                        `it has more than 512 KB`,
		within(`<rect width="9" height="9"`):                                                        `line 2: it is not well formed`,
		`<!DOCTYPE svg [<!ENTITY a "aa"><!ENTITY b "&a;&a;">]>` + within(square):                    `line 1: it has entities of its own`,
		`<?xml-stylesheet href="a.css"?>` + within(square):                                          `line 1: it refers to a sheet of styles`,
		`<svg xmlns="http://www.w3.org/2000/svg" width="100%" height="5">` + square + `</svg>`:      `line 1: it has neither a viewBox nor a width`,
		`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 99">` + square + `</svg>`:           `line 1: it is 1 by 99, want sides`,
		`<html><body>hello</body></html>`:                                                           `it is no SVG file`,
	} {
		_, err := Decode(strings.NewReader(text))
		var e *Error
		if assert.True(t, errors.As(err, &e), "%.80s: %v", text, err) {
			assert.True(t, strings.HasPrefix(Reason(err), want), "%.80s: %s", text, Reason(err))
		}
	}
}

// It is a format of package image as others are.
func TestIsAFormatOfPackageImage(t *testing.T) {
	for name, text := range drawings {
		size, format, err := image.DecodeConfig(strings.NewReader(text))
		require.NoError(t, err, name)
		assert.Equal(t, Format, format)
		assert.Equal(t, 1200, max(size.Width, size.Height))
		whole, _, err := image.Decode(strings.NewReader("\xef\xbb\xbf" + text))
		require.NoError(t, err, name)
		assert.Equal(t, size.Width, whole.Bounds().Dx())
	}
}

// Whatever a file says, it is drawn or refused, in bounded time.
func FuzzDecode(f *testing.F) {
	for _, text := range drawings {
		f.Add([]byte(text))
	}
	f.Add([]byte(within(square)))
	f.Fuzz(func(t *testing.T, content []byte) {
		if len(content) > 8<<10 {
			return
		}
		picture, err := Decode(bytes.NewReader(content))
		if err == nil && (picture.Bounds().Dx() > longestSide || picture.Bounds().Dy() > longestSide) {
			t.Fatal(picture.Bounds())
		}
		if err != nil && Reason(err) == "" {
			t.Fatal(err)
		}
	})
}
