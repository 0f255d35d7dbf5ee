package svg

import (
	"encoding/xml"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// What an element may say, by what is done with it.
var (
	// lengths are numbers, of the drawing's units.
	lengths = strings.Fields("x y width height rx ry cx cy r x1 y1 x2 y2 stroke-width stroke-dashoffset")
	// shares are numbers from 0 to 1, or percents.
	shares = strings.Fields("opacity fill-opacity stroke-opacity stop-opacity offset")
	// words are properties of a few words.
	words = map[string][]string{
		"stroke-linecap": {"butt", "round", "square"}, "stroke-linejoin": {"miter", "round", "bevel"}, "fill-rule": {"nonzero", "evenodd"},
		"gradientUnits": {"objectBoundingBox"}, "spreadMethod": {"pad", "reflect", "repeat"},
	}
	// harmless are properties that change nothing in what is drawn here, whatever they say.
	harmless = regexp.MustCompile(`^(id|version|baseProfile|role|focusable|xmlns|viewBox|preserveAspectRatio|enable-background|shape-rendering|text-rendering|image-rendering|` +
		`color-rendering|color-interpolation|color-interpolation-filters|clip-rule|cursor|pointer-events|font.*|text.*|letter-spacing|word-spacing|line-height|white-space|` +
		`writing-mode|direction|unicode-bidi|aria-.*|data-.*|solid-.*|-.*|flood-.*|lighting-color|tabindex|type|title|href|target|overflow|zoomAndPan|contentScriptType|` +
		`contentStyleType|dominant-baseline|baseline-shift|alignment-baseline|shape-.*|inline-size|block-progression)$`)
	// without are properties that do nothing by these words, and are not drawn by others.
	without = map[string][]string{
		"display": {"inline", "block", "inherit"}, "visibility": {"visible", "inherit"}, "clip-path": {"none"}, "mask": {"none"}, "filter": {"none"}, "marker": {"none"},
		"marker-start": {"none"}, "marker-mid": {"none"}, "marker-end": {"none"}, "mix-blend-mode": {"normal"}, "isolation": {"auto"}, "vector-effect": {"none"},
		"paint-order": {"normal", "fill"}, "pathLength": {""},
	}
)

// said are the properties of an element as they are written, each once; the state takes what it hands down.
func (c *cleaner) said(t xml.StartElement, now *state) ([][2]string, error) {
	var all [][2]string
	put := func(key, value string) {
		all = slices.DeleteFunc(all, func(p [2]string) bool { return p[0] == key })
		all = append(all, [2]string{key, value})
	}
	for _, p := range c.properties(t) {
		key, value := p[0], strings.TrimSpace(strings.TrimSuffix(p[1], "!important"))
		text, keep, err := c.property(t.Name.Local, key, value, now)
		if err != nil {
			return nil, err
		}
		if keep {
			put(renamed(key), text)
		}
	}
	if t.Name.Local == "rect" { // one radius is both
		if rx, ry := find(all, "rx"), find(all, "ry"); rx != "" && ry == "" {
			put("ry", rx)
		} else if ry != "" && rx == "" {
			put("rx", ry)
		}
	}
	if slices.Contains(fades, t.Name.Local) {
		put("id", attribute(t, "id"))
	}
	return all, nil
}

// renamed is the name under which a property is written: points become a path.
func renamed(key string) string {
	if key == "points" {
		return "d"
	}
	return key
}

func find(all [][2]string, key string) string {
	for _, p := range all {
		if p[0] == key {
			return p[1]
		}
	}
	return ""
}

// property is how a property is written; keep is false where it is left out.
func (c *cleaner) property(element, key, value string, now *state) (text string, keep bool, err error) {
	refused := func() (string, bool, error) {
		return "", false, c.fault(fmt.Sprintf("%s = %q is not drawn here", key, value))
	}
	group := slices.Contains(groups, element)
	switch {
	case element == "svg" && slices.Contains([]string{"x", "y", "width", "height"}, key):
		return "", false, nil
	case key == "transform", key == "gradientTransform":
		m, ok := transformOf(value)
		if !ok || key == "gradientTransform" {
			return refused()
		}
		now.matrix = now.matrix.times(m)
		return m.String(), true, nil
	case key == "fill", key == "stroke", key == "stop-color":
		text, ok := c.paint(value, key == "fill", key != "stop-color")
		if !ok {
			return refused()
		}
		if key == "stroke" && text != "" {
			now.stroked = text != "none"
		}
		return text, text != "", nil
	case slices.Contains(shares, key):
		x, percent, ok := length(value)
		if percent {
			x /= 100
		}
		if !ok || x < 0 || x > 1 || group && x < 1 {
			return refused() // the opacity of a group is of all in it together
		}
		return number(x), true, nil
	case slices.Contains(fades, element) && slices.Contains([]string{"x1", "y1", "x2", "y2", "cx", "cy", "r", "fx", "fy"}, key):
		x, percent, ok := length(value)
		if percent {
			x /= 100
		}
		if !ok || math.Abs(x) > 10 {
			return refused()
		}
		return number(x), true, nil
	case slices.Contains(lengths, key):
		x, percent, ok := length(value)
		if !ok || percent || !c.near(now, x) || x < 0 && slices.Contains([]string{"width", "height", "rx", "ry", "r", "stroke-width"}, key) {
			return refused()
		}
		return number(x), true, nil
	case key == "stroke-miterlimit":
		x, _, ok := length(value)
		if !ok || x < 1 || x > 100 {
			return refused()
		}
		return number(x), true, nil
	case key == "stroke-dasharray":
		if value == "none" {
			return "", false, nil
		}
		return c.dashes(value, refused)
	case key == "d":
		return c.path(value, now, refused)
	case key == "points":
		numbers, ok := numbersOf(value)
		c.numbers += len(numbers)
		if !ok || len(numbers)%2 != 0 || c.numbers > mostNumbers || slices.ContainsFunc(numbers, func(x float64) bool { return !c.near(now, x) }) {
			return refused()
		}
		if len(numbers) < 4 {
			return refused()
		}
		return "M " + joined(numbers[:2]) + " L " + joined(numbers[2:]) + map[bool]string{true: " Z"}[element == "polygon"], true, nil
	case words[key] != nil:
		if !slices.Contains(words[key], value) {
			return refused()
		}
		if key == "fill-rule" {
			now.evenOdd = value == "evenodd"
			return "", false, nil
		}
		return value, true, nil
	case without[key] != nil:
		if !slices.Contains(without[key], value) {
			return refused()
		}
		return "", false, nil
	case harmless.MatchString(key):
		return "", false, nil
	}
	return refused()
}

// paint is a color, or a gradient of the file.
func (c *cleaner) paint(value string, fades, none bool) (text string, ok bool) {
	if reference, is := strings.CutPrefix(value, "url(#"); is && fades {
		id, rest, _ := strings.Cut(reference, ")")
		return "url(#" + id + ")", rest == "" && c.grads[id]
	}
	low := strings.ToLower(value)
	switch {
	case low == "inherit":
		return "", true
	case hex.MatchString(low), rgb.MatchString(low):
		return low, true
	case low == "none":
		return low, none
	case named.MatchString(low) && low != "transparent" && low != "currentcolor":
		return low, true // the rasterizer refuses names that it does not know
	}
	return "", false
}

var (
	hex   = regexp.MustCompile(`^#([0-9a-f]{3}|[0-9a-f]{6})$`)
	rgb   = regexp.MustCompile(`^rgb\(\s*\d{1,3}\s*,\s*\d{1,3}\s*,\s*\d{1,3}\s*\)$`)
	named = regexp.MustCompile(`^[a-z]{3,22}$`)
)

// dashes are lengths of dashes, none so short that they are without number.
func (c *cleaner) dashes(value string, refused func() (string, bool, error)) (string, bool, error) {
	numbers, ok := numbersOf(value)
	sum := 0.0
	for _, x := range numbers {
		ok = ok && x >= 0
		sum += x
	}
	if !ok || len(numbers) == 0 || len(numbers) > 16 || sum < math.Max(c.box[2], c.box[3])/500 {
		return refused()
	}
	return joined(numbers), true, nil
}

// pathWords are the letters and numbers of a path.
var pathWords = regexp.MustCompile(`[MmZzLlHhVvCcSsQqTtAa]|[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?`)

// arguments are how many numbers go with a letter of a path.
var arguments = map[byte]int{'m': 2, 'l': 2, 'h': 1, 'v': 1, 'c': 6, 's': 4, 'q': 4, 't': 2, 'a': 7}

// path writes a path with a blank between any two of its words, its flags of arcs apart.
func (c *cleaner) path(value string, now *state, refused func() (string, bool, error)) (string, bool, error) {
	if strings.Trim(pathWords.ReplaceAllString(value, ""), " \t\r\n,") != "" {
		return "", false, c.fault("a path in it is not understood")
	}
	var out []string
	command, argument := byte(0), 0
	for rest := value; ; {
		at := pathWords.FindStringIndex(rest)
		if at == nil {
			break
		}
		word := rest[at[0]:at[1]]
		rest = rest[at[1]:]
		if letter := word[0]; letter >= 'A' {
			command, argument = letter, 0
			out = append(out, word)
			continue
		}
		if argument > 0 && arguments[command|' '] > 0 && argument%arguments[command|' '] == 0 { // its letter again, before the rasterizer counts on
			if command == 'm' || command == 'M' {
				command -= 'm' - 'l'
			}
			out = append(out, string(command))
		}
		if arc := command == 'a' || command == 'A'; arc && (argument%7 == 3 || argument%7 == 4) && len(word) > 1 { // flags need nothing between them
			rest, word = word[1:]+rest, word[:1]
		}
		argument++
		c.numbers++
		x, err := strconv.ParseFloat(word, 64)
		if err != nil || c.numbers > mostNumbers || !c.near(now, x) {
			return "", false, c.fault(fmt.Sprintf("a path in it has %q, too far from the drawing, or there are more than %d numbers", word, mostNumbers))
		}
		out = append(out, number(x))
	}
	if len(out) == 0 {
		return refused()
	}
	return strings.Join(out, " "), true, nil
}

// near tells that a number is of a place, or a length, not far outside of the drawing, wherever it is moved to.
func (c *cleaner) near(now *state, x float64) bool {
	size := math.Max(c.box[2], c.box[3]) + math.Abs(c.box[0]) + math.Abs(c.box[1])
	return math.Abs(x)*math.Max(1, now.matrix.stretch())+now.matrix.shift() <= mostOutside*size
}

// length is a number, without its unit of pixels, and whether it is percents.
func length(text string) (x float64, percent, ok bool) {
	text, percent = strings.CutSuffix(strings.TrimSpace(text), "%")
	x, err := strconv.ParseFloat(strings.TrimSuffix(text, "px"), 64)
	return x, percent, err == nil && !math.IsNaN(x) && !math.IsInf(x, 0)
}

// numbersOf are numbers apart by blanks and commas.
func numbersOf(text string) (all []float64, ok bool) {
	if strings.Trim(pathNumbers.ReplaceAllString(text, ""), " \t\r\n,") != "" {
		return nil, false
	}
	for _, word := range pathNumbers.FindAllString(text, -1) {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return nil, false
		}
		all = append(all, x)
	}
	return all, true
}

var pathNumbers = regexp.MustCompile(`[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?`)

// number writes a number without an exponent, which the rasterizer reads amiss.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func joined(all []float64) string {
	texts := make([]string, len(all))
	for i, x := range all {
		texts[i] = number(x)
	}
	return strings.Join(texts, " ")
}
