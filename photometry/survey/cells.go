package survey

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

const (
	mostName   = 60  // bytes of a station's name
	mostLength = 1e5 // of a coordinate, either unit
	mostLux    = 2e5 // about twice full sun on a level plane: more is a slip of the pen
)

// cells is one record of a file, read by the names of its columns.
type cells struct {
	reader *reader
	record []string
	place  func(field int) (line, column int)
}

func (c cells) fault(field int, key, wrong, want string) {
	line, column := c.place(min(field, len(c.record)-1))
	c.reader.fault(line, column, key, wrong, want)
}

func (c cells) faultAt(column, wrong, want string) {
	c.fault(c.reader.columns[column], column, wrong, want)
}

// text returns a field without the spaces around it; a field that the record ends before is empty.
func (c cells) text(column string) string {
	i, ok := c.reader.columns[column]
	if !ok || i >= len(c.record) {
		return ""
	}
	return strings.TrimSpace(valid(c.record[i]))
}

// number returns a field in a range, or NaN if it is empty; what is none is a fault.
func (c cells) number(column string, low, high float64, want string) float64 {
	text := c.text(column)
	if text == "" {
		return math.NaN()
	}
	plain, wrong := c.reader.mark.plain(text)
	if wrong != "" {
		c.faultAt(column, fmt.Sprintf("%.40q %s", text, wrong), "a decimal point, and no sign between thousands")
		return math.NaN()
	}
	x, err := strconv.ParseFloat(plain, 64)
	if err != nil || strings.Trim(plain, "+-.0123456789eE") != "" {
		c.faultAt(column, fmt.Sprintf("%.40q is no number", text), want)
		return math.NaN()
	}
	const rounding = 1e-9 // of a limit that was converted
	if x < low || x > high*(1+rounding) {
		c.faultAt(column, fmt.Sprintf("%.40s is out of range", text), fmt.Sprintf("%s, from %.6g to %.6g", want, low, high))
		return math.NaN()
	}
	return x
}

// decimal keeps which decimal mark a file uses. A file that uses both has thousands somewhere, and one cannot be told from the other.
type decimal struct {
	separated   bool // fields are separated by commas
	comma, dots bool // seen
}

// plain returns the number with a decimal point, or what is wrong with its marks.
func (d *decimal) plain(text string) (plain, wrong string) {
	comma, dot := strings.Contains(text, ","), strings.Contains(text, ".")
	switch {
	case comma && d.separated:
		return "", "has a comma, which separates fields in this file"
	case comma && (dot || d.dots) || dot && d.comma:
		return "", "has another decimal mark than the rest: the file uses comma and point"
	}
	d.comma, d.dots = d.comma || comma, d.dots || dot
	return strings.Replace(text, ",", ".", 1), ""
}
