package plots

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"html"
	"slices"
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

// A Source says what made a figure. It stands in the file beside the drawing, where programs show the properties of a file; the zero
// value leaves it out. Its texts are ASCII.
type Source struct {
	Program string // with its version
	Inputs  string // what tells the inputs from others, such as a digest of them
}

// chunks are the parts of a PNG file that say what made it; the keyword of a program is the standard's.
func (s Source) chunks() []byte {
	return append(textChunk("Software", s.Program), textChunk("Inputs", s.Inputs)...)
}

// textChunk is a tEXt chunk: its length, kind, keyword, a zero byte, text, and the check sum of all but the length; nothing for no text
// (Portable Network Graphics, ISO/IEC 15948, 11.3.4.3).
func textChunk(keyword, text string) []byte {
	if text == "" {
		return nil
	}
	body := []byte("tEXt" + keyword + "\x00" + text)
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(keyword)+1+len(text)))
	return binary.BigEndian.AppendUint32(append(chunk, body...), crc32.ChecksumIEEE(body))
}

// headOfPNG is the length of a PNG file's signature and of its first chunk, the header, which nothing may precede.
const headOfPNG = 8 + 4 + 4 + 13 + 4

// inPNG puts it into a PNG file, behind the header.
func (s Source) inPNG(file []byte) []byte {
	return slices.Insert(file, headOfPNG, s.chunks()...)
}

// inSVG puts it into a drawing, before all that is drawn.
func (s Source) inSVG(drawing []byte) []byte {
	if s == (Source{}) {
		return drawing
	}
	words := strings.Trim(s.Program+", "+s.Inputs, ", ")
	start := bytes.Index(drawing, []byte("<svg "))
	at := start + bytes.IndexByte(drawing[start:], '>') + 1 // no attribute holds one that is not escaped
	return slices.Insert(drawing, at, []byte("\n<metadata>"+html.EscapeString(words)+"</metadata>")...)
}

// inPDF puts it into the properties of a document.
func (s Source) inPDF(doc *fpdf.Fpdf) {
	if s.Program != "" {
		doc.SetCreator(s.Program, false)
	}
	if s.Inputs != "" {
		doc.SetKeywords(s.Inputs, false)
	}
}
