package drawn

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"
)

// An Ink is what one operator leaves on a page of a PDF, in pt from the lower left: the box around a path, or where a line of text begins.
type Ink struct {
	X0, Y0, X1, Y1 float64
	Text           string  // "" for a path
	Size           float64 // of the type
	Figure         int     // which figure of the page it belongs to, from 1; 0 for none
}

// A Page is what stands on one page of a PDF.
type Page struct {
	Width, Height float64
	Ink           []Ink
}

var (
	pdfStream = regexp.MustCompile(`(\d+) 0 obj\n<</Filter /FlateDecode /Length (\d+)>>\nstream\n`)
	pdfPage   = regexp.MustCompile(`(?s)<</Type /Page\n.*?/Contents (\d+) 0 R>>`)
	pdfBox    = regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`)
)

// PDFPages reads the pages of a PDF that fpdf wrote. It errs on a number that is none and on an operator that it does not know.
func PDFPages(pdf []byte) ([]Page, error) {
	streams := map[string][]byte{}
	for _, at := range pdfStream.FindAllSubmatchIndex(pdf, -1) {
		length, err := strconv.Atoi(string(pdf[at[4]:at[5]]))
		if err != nil {
			return nil, fmt.Errorf("length of a stream: %w", err)
		}
		r, err := zlib.NewReader(bytes.NewReader(pdf[at[1] : at[1]+length]))
		if err != nil {
			return nil, fmt.Errorf("stream: %w", err)
		}
		if streams[string(pdf[at[2]:at[3]])], err = io.ReadAll(r); err != nil {
			return nil, fmt.Errorf("stream: %w", err)
		}
	}
	box := pdfBox.FindSubmatch(pdf)
	if box == nil {
		return nil, fmt.Errorf("no size of a page")
	}
	width, height := number64(box[1]), number64(box[2])
	var pages []Page
	for _, m := range pdfPage.FindAllSubmatch(pdf, -1) {
		c := content{page: Page{Width: width, Height: height}, matrix: [6]float64{1, 0, 0, 1, 0, 0}}
		if err := c.read(streams[string(m[1])]); err != nil {
			return nil, fmt.Errorf("page %d: %w", len(pages)+1, err)
		}
		pages = append(pages, c.page)
	}
	if len(pages) == 0 {
		return nil, fmt.Errorf("no page")
	}
	return pages, nil
}

func number64(text []byte) float64 {
	x, err := strconv.ParseFloat(string(text), 64)
	if err != nil {
		return math.NaN()
	}
	return x
}

// A content is a stream of operators as it is read.
type content struct {
	page    Page
	matrix  [6]float64
	stack   [][6]float64
	path    []float64 // x and y of its points on the page
	line    float64
	size    float64
	figure  int
	figures int
	text    string
	operand []float64
}

// read goes through a stream operator by operator.
func (c *content) read(stream []byte) error {
	for len(stream) > 0 {
		switch b := stream[0]; {
		case b <= ' ' || b == '[' || b == ']':
			stream = stream[1:]
		case b == '(':
			c.text, stream = pdfString(stream[1:])
		default:
			n := bytes.IndexAny(stream, " \n\t([]")
			if n < 0 {
				n = len(stream)
			}
			if err := c.word(string(stream[:n])); err != nil {
				return err
			}
			stream = stream[n:]
		}
	}
	return nil
}

// pdfString is a string up to its closing parenthesis, of UTF-16, and what follows it.
func pdfString(s []byte) (text string, rest []byte) {
	var units []byte
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case ')':
			var words []uint16
			for k := 0; k+1 < len(units); k += 2 {
				words = append(words, uint16(units[k])<<8|uint16(units[k+1]))
			}
			return string(utf16.Decode(words)), s[i+1:]
		case '\\':
			i++
			units = append(units, strings.NewReplacer("r", "\r", "n", "\n").Replace(string(s[i]))...)
		default:
			units = append(units, s[i])
		}
	}
	return "", nil
}

// word takes an operand, a name or an operator.
func (c *content) word(w string) error {
	if w[0] == '/' {
		return nil // a name
	}
	if x, err := strconv.ParseFloat(w, 64); err == nil {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("the number %q", w)
		}
		c.operand = append(c.operand, x)
		return nil
	}
	if err := c.operator(w); err != nil {
		return err
	}
	c.operand = c.operand[:0]
	return nil
}

// operands are how many numbers an operator takes at least; what is not here no page of ours has.
var operands = map[string]int{"m": 2, "l": 2, "c": 6, "re": 4, "h": 0, "S": 0, "s": 0, "f": 0, "B": 0, "n": 0, "W": 0, "q": 0, "Q": 0, "cm": 6, "w": 1, "J": 1,
	"j": 1, "d": 1, "RG": 3, "rg": 3, "G": 1, "g": 1, "BT": 0, "ET": 0, "Tf": 1, "Td": 2, "Tj": 0, "gs": 0, "BMC": 0, "EMC": 0}

func (c *content) operator(w string) error {
	least, known := operands[w]
	o := c.operand
	if !known || len(o) < least {
		return fmt.Errorf("operator %q with %v", w, o)
	}
	switch w {
	case "m", "l", "c":
		for k := 0; k < len(o); k += 2 {
			c.point(o[k], o[k+1])
		}
	case "re":
		c.point(o[0], o[1])
		c.point(o[0]+o[2], o[1]+o[3])
	case "S", "s":
		c.paint(c.line / 2)
	case "f", "B", "n":
		c.paint(0)
	case "q":
		c.stack = append(c.stack, c.matrix)
	case "Q":
		c.matrix, c.stack = c.stack[len(c.stack)-1], c.stack[:len(c.stack)-1]
	case "cm":
		m := c.matrix
		c.matrix = [6]float64{o[0]*m[0] + o[1]*m[2], o[0]*m[1] + o[1]*m[3], o[2]*m[0] + o[3]*m[2], o[2]*m[1] + o[3]*m[3],
			o[4]*m[0] + o[5]*m[2] + m[4], o[4]*m[1] + o[5]*m[3] + m[5]}
	case "w":
		c.line = o[0]
	case "Tf":
		c.size = o[0]
	case "Td":
		c.path = nil
		c.point(o[0], o[1])
	case "Tj":
		x, y := c.path[0], c.path[1]
		c.page.Ink = append(c.page.Ink, Ink{x, y, x, y, c.text, c.size, c.figure})
		c.path = nil
	case "BMC":
		c.figures++
		c.figure = c.figures
	case "EMC":
		c.figure = 0
	}
	return nil
}

func (c *content) point(x, y float64) {
	m := c.matrix
	c.path = append(c.path, m[0]*x+m[2]*y+m[4], m[1]*x+m[3]*y+m[5])
}

// paint notes the box around the path, and its line.
func (c *content) paint(around float64) {
	if len(c.path) == 0 {
		return
	}
	k := Ink{X0: math.Inf(1), Y0: math.Inf(1), X1: math.Inf(-1), Y1: math.Inf(-1), Figure: c.figure}
	for i := 0; i < len(c.path); i += 2 {
		x, y := c.path[i], c.path[i+1]
		k.X0, k.X1 = min(k.X0, x-around), max(k.X1, x+around)
		k.Y0, k.Y1 = min(k.Y0, y-around), max(k.Y1, y+around)
	}
	c.page.Ink, c.path = append(c.page.Ink, k), nil
}
