package plots

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"hash/crc32"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
)

func writtenFrom(t *testing.T, f Figure, format string, from Source) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, WriteFrom(&b, f, format, 4*vg.Inch, 0, from))
	return b.Bytes()
}

// TestSource finds what made a figure in the file of each format, where the format has a place for it, and the drawing as it was.
func TestSource(t *testing.T) {
	figure := figures(t)["polar-plain"]
	require.NotNil(t, figure)
	from := Source{Program: `program (v1) <"&">`, Inputs: "sha256:0123"}
	for format, check := range map[string]func(with, without []byte){
		"png": func(with, without []byte) {
			assert.Equal(t, map[string]string{"Software": from.Program, "Inputs": from.Inputs}, textsOfPNG(t, with))
			assert.Empty(t, textsOfPNG(t, without))
			a, err := png.Decode(bytes.NewReader(with))
			require.NoError(t, err)
			b, err := png.Decode(bytes.NewReader(without))
			require.NoError(t, err)
			assert.Equal(t, b, a)
		},
		"svg": func(with, without []byte) {
			var root struct {
				Metadata []string `xml:"metadata"`
				Inner    string   `xml:",innerxml"`
			}
			require.NoError(t, xml.Unmarshal(with, &root))
			assert.Equal(t, []string{from.Program + ", " + from.Inputs}, root.Metadata)
			assert.True(t, strings.HasPrefix(strings.TrimSpace(root.Inner), "<metadata>"))
			assert.NotContains(t, string(without), "metadata")
		},
		"pdf": func(with, without []byte) {
			assert.Contains(t, string(with), `/Creator (program \(v1\) <"&">)`)
			assert.Contains(t, string(with), "/Keywords (sha256:0123)")
			assert.NotContains(t, string(without), "/Creator")
		},
	} {
		with := writtenFrom(t, figure, format, from)
		check(with, writtenFrom(t, figure, format, Source{}))
		assert.Equal(t, with, writtenFrom(t, figure, format, from), "%s: the same bytes every time", format)
	}
}

// textsOfPNG reads the text chunks of a picture, each with its check sum.
func textsOfPNG(t *testing.T, file []byte) map[string]string {
	t.Helper()
	texts := map[string]string{}
	for rest := file[8:]; len(rest) > 0; {
		n := int(binary.BigEndian.Uint32(rest))
		kind, body := string(rest[4:8]), rest[8:8+n]
		assert.Equal(t, crc32.ChecksumIEEE(rest[4:8+n]), binary.BigEndian.Uint32(rest[8+n:]), kind)
		if kind == "tEXt" {
			keyword, text, found := strings.Cut(string(body), "\x00")
			assert.True(t, found)
			texts[keyword] = text
		}
		rest = rest[12+n:]
	}
	return texts
}
