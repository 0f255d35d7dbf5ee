package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"

	"github.com/fyne-io/oksvg"
)

// A cleaner writes a file anew with nothing in it but what is sure to be drawn right.
type cleaner struct {
	content []byte
	decoder *xml.Decoder
	plain   bytes.Buffer

	box      [4]float64 // of the drawing: x, y, width, height
	classes  map[string][][2]string
	grads    map[string]bool // gradients by their ids, so far
	stack    []state
	shapes   []state // every one
	icon     *oksvg.SvgIcon
	elements int
	numbers  int
}

// A state is what an element hands down.
type state struct {
	name    string
	matrix  matrix // to the drawing
	evenOdd bool
	stroked bool
}

// Elements that are drawn, and those that say nothing to the eye and are left out with all in them.
var (
	shapes = []string{"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}
	groups = []string{"svg", "g", "defs", "a"}
	silent = []string{"title", "desc", "metadata", "style"}
	fades  = []string{"linearGradient", "radialGradient"}
)

const svgSpace = "http://www.w3.org/2000/svg"

// clean reads the file twice: for its styles and gradients, and to write it.
func (c *cleaner) clean() error {
	if err := c.look(); err != nil {
		return err
	}
	skipped := 0 // elements, one within the other, of which nothing is drawn
	err := c.tokens(func(token xml.Token) error {
		switch t := token.(type) {
		case xml.StartElement:
			if skipped == 0 && !c.isSilent(t) {
				return c.begin(t)
			}
			skipped++
		case xml.EndElement:
			if skipped == 0 {
				c.end()
				return nil
			}
			skipped--
		case xml.CharData:
			if skipped == 0 && len(bytes.TrimSpace(t)) > 0 {
				return c.fault("it has text between its elements")
			}
		}
		return nil
	})
	if err == nil && len(c.shapes) == 0 {
		return errEmpty
	}
	return err
}

// tokens hands over what the file has, from its begin, until that errs.
func (c *cleaner) tokens(take func(xml.Token) error) error {
	c.decoder = xml.NewDecoder(bytes.NewReader(c.content))
	for {
		token, err := c.decoder.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return c.fault("it is not well formed")
		}
		if err := take(token); err != nil {
			return err
		}
	}
}

// look goes over all of the file: its bounds, what no picture has, its rules of style, its gradients.
func (c *cleaner) look() error {
	c.classes, c.grads = map[string][][2]string{}, map[string]bool{}
	depth, root := 0, ""
	err := c.tokens(func(token xml.Token) error {
		switch t := token.(type) {
		case xml.Directive:
			if bytes.Contains(t, []byte("[")) || bytes.Contains(bytes.ToUpper(t), []byte("ENTITY")) {
				return c.fault("it has entities of its own")
			}
		case xml.ProcInst:
			if t.Target != "xml" {
				return c.fault("it refers to a sheet of styles or the like")
			}
		case xml.StartElement:
			if c.elements++; c.elements > mostElements {
				return c.fault(fmt.Sprintf("it has more than %d elements", mostElements))
			}
			if depth++; depth > mostDepth {
				return c.fault(fmt.Sprintf("it has elements more than %d deep", mostDepth))
			}
			if root == "" {
				root = t.Name.Local
			}
			if t.Name.Local == "script" || slices.ContainsFunc(t.Attr, func(a xml.Attr) bool { return strings.HasPrefix(strings.ToLower(a.Name.Local), "on") }) {
				return c.fault("it has a script")
			}
			if t.Name.Local == "style" {
				depth-- // its end is read with its rules
				return c.styles()
			}
		case xml.EndElement:
			depth--
		}
		return nil
	})
	if err == nil && root != "svg" {
		return &Error{Text: "it is no SVG file"}
	}
	return err
}

// rule is a rule of style for classes; comment is what is none.
var (
	rule    = regexp.MustCompile(`^\s*(\.[\w-]+(?:\s*,\s*\.[\w-]+)*)\s*\{([^{}]*)\}`)
	comment = regexp.MustCompile(`(?s)/\*.*?\*/`)
)

// styles reads the rules of an element of style, which the decoder is in.
func (c *cleaner) styles() error {
	var text strings.Builder
	for {
		token, err := c.decoder.Token()
		if err != nil {
			return c.fault("it is not well formed")
		}
		switch t := token.(type) {
		case xml.CharData:
			text.Write(t)
		case xml.StartElement:
			return c.fault("it has an element in its styles")
		case xml.EndElement:
			rest := comment.ReplaceAllString(text.String(), "")
			for strings.TrimSpace(rest) != "" {
				found := rule.FindStringSubmatch(rest)
				if found == nil {
					return c.fault("it has styles for what is no class")
				}
				rest = rest[len(found[0]):]
				for class := range strings.SplitSeq(found[1], ",") {
					class = strings.TrimPrefix(strings.TrimSpace(class), ".")
					c.classes[class] = append(c.classes[class], declared(found[2])...)
				}
			}
			return nil
		}
	}
}

// declared are the properties of a style.
func declared(style string) [][2]string {
	var all [][2]string
	for part := range strings.SplitSeq(style, ";") {
		if key, value, ok := strings.Cut(part, ":"); ok {
			all = append(all, [2]string{strings.TrimSpace(key), strings.TrimSpace(value)})
		}
	}
	return all
}

// isSilent tells that nothing of an element is drawn: it is about the drawing, of another vocabulary, or hidden.
func (c *cleaner) isSilent(t xml.StartElement) bool {
	if t.Name.Space != svgSpace && t.Name.Space != "" || slices.Contains(silent, t.Name.Local) {
		return true
	}
	return slices.ContainsFunc(c.properties(t), func(p [2]string) bool { return p[0] == "display" && p[1] == "none" })
}

// properties are what an element says of its looks: its attributes, over them its classes, over these its style.
func (c *cleaner) properties(t xml.StartElement) [][2]string {
	var all [][2]string
	for _, a := range t.Attr {
		if a.Name.Space == "" && a.Name.Local != "class" && a.Name.Local != "style" {
			all = append(all, [2]string{a.Name.Local, strings.TrimSpace(a.Value)})
		}
	}
	for class := range strings.FieldsSeq(attribute(t, "class")) {
		all = append(all, c.classes[class]...)
	}
	return append(all, declared(attribute(t, "style"))...)
}

func attribute(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}

// fault is a fault at the place at which the decoder is.
func (c *cleaner) fault(text string) error {
	line, _ := c.decoder.InputPos()
	return &Error{line, text}
}

// begin writes the beginning of an element.
func (c *cleaner) begin(t xml.StartElement) error {
	name := t.Name.Local
	inFade := len(c.stack) > 0 && slices.Contains(fades, c.stack[len(c.stack)-1].name)
	switch {
	case slices.Contains(shapes, name), slices.Contains(groups, name), slices.Contains(fades, name), name == "stop" && inFade:
	default:
		return c.fault(fmt.Sprintf("%q is not drawn here", name))
	}
	now := state{name: name, matrix: identity}
	if len(c.stack) > 0 {
		now = c.stack[len(c.stack)-1]
		now.name = name
		if name == "svg" {
			return c.fault("it has a drawing within the drawing")
		}
	} else if err := c.measure(t); err != nil {
		return err
	}
	if slices.Contains(shapes, name) && slices.ContainsFunc(c.stack, func(s state) bool { return s.name == "defs" }) {
		return c.fault("it has shapes that are used from elsewhere")
	}
	if name != "a" && slices.ContainsFunc(t.Attr, func(a xml.Attr) bool { return a.Name.Local == "href" }) {
		return c.fault("it refers to something from " + name)
	}
	properties, err := c.said(t, &now)
	if err != nil {
		return err
	}
	if slices.Contains(fades, name) {
		c.grads[attribute(t, "id")] = true
	}
	if slices.Contains(shapes, name) {
		if now.stroked && !now.matrix.similar() {
			return c.fault("it has a line that is stretched one way")
		}
		c.shapes = append(c.shapes, now)
		if name == "polyline" || name == "polygon" { // of which the rasterizer leaves out those of two points
			name, now.name = "path", "path"
		}
	}
	c.stack = append(c.stack, now)
	if name == "svg" {
		fmt.Fprintf(&c.plain, `<svg xmlns=%q viewBox=%q`, svgSpace, joined(c.box[:]))
		for _, p := range usual {
			if find(properties, p[0]) == "" {
				properties = append(properties, p)
			}
		}
	} else {
		c.plain.WriteString("<" + written(name))
	}
	for _, p := range properties {
		c.plain.WriteString(" " + p[0] + `="`)
		_ = xml.EscapeText(&c.plain, []byte(p[1])) // into memory
		c.plain.WriteString(`"`)
	}
	c.plain.WriteString(">")
	return nil
}

// usual is what holds where a file does not say.
var usual = [][2]string{{"fill", "#000000"}, {"stroke-width", "1"}, {"stroke-linecap", "butt"}, {"stroke-linejoin", "miter"}, {"stroke-miterlimit", "4"}}

// written is the name under which an element is drawn: all that groups is a group.
func written(name string) string {
	if name == "a" {
		return "g"
	}
	return name
}

func (c *cleaner) end() {
	last := len(c.stack) - 1
	c.plain.WriteString("</" + written(c.stack[last].name) + ">")
	c.stack = c.stack[:last]
}

// measure takes the size of the drawing.
func (c *cleaner) measure(t xml.StartElement) error {
	width, relative, known := length(attribute(t, "width"))
	height, too, also := length(attribute(t, "height"))
	known = known && !relative && !too
	c.box = [4]float64{0, 0, width, height}
	if view := attribute(t, "viewBox"); view != "" {
		numbers, ok := numbersOf(view)
		if !ok || len(numbers) != 4 {
			return c.fault("its viewBox is not of four numbers")
		}
		copy(c.box[:], numbers)
	} else if !known || !also {
		return c.fault("it has neither a viewBox nor a width and a height in numbers")
	}
	w, h := c.box[2], c.box[3]
	if !(w > 0 && h > 0 && w <= 1e5 && h <= 1e5 && w/h <= mostSlender && h/w <= mostSlender && math.Abs(c.box[0])+math.Abs(c.box[1]) <= 1e6 && min(w, h) >= 1e-2) {
		return c.fault(fmt.Sprintf("it is %g by %g, want sides above 0.01 and up to 100,000, one at most %d times the other", w, h, mostSlender))
	}
	return nil
}
