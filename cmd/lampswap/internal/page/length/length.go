// Package length understands lengths as people of the trade write them: 18'6", 18 ft 6 in, 18 1/2, 5.5 m.
package length

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"lampswap/photometry"
)

// Units of length, m.
const (
	inch       = photometry.Foot / 12
	centimeter = 0.01
	millimeter = 0.001
)

// perFoot is into how many parts of an inch a foot is cut when it is shown: a tape's sixteenths.
const (
	perInch = 16
	perFoot = 12 * perInch
)

// units are the words of each unit, m. The bare marks are those of feet and inches.
var units = map[string]float64{
	"'": photometry.Foot, "ft": photometry.Foot, "ft.": photometry.Foot, "foot": photometry.Foot, "feet": photometry.Foot,
	`"`: inch, "''": inch, "in": inch, "in.": inch, "inch": inch, "inches": inch,
	"m": 1, "meter": 1, "meters": 1, "metre": 1, "metres": 1,
	"cm": centimeter, "mm": millimeter,
}

// plain makes the marks of a printed page those of a keyboard, and fractions that are one letter two numbers.
var plain = strings.NewReplacer("′", "'", "’", "'", "‘", "'", "´", "'", "″", `"`, "”", `"`, "“", `"`, "\u00a0", " ", "⁄", "/", "½", " 1/2", "¼", " 1/4",
	"¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

// term is a number with its unit, at the start of what is left: 18, 18.5, 18 1/2, 18-1/2, 1/2.
var term = regexp.MustCompile(`^(?:([0-9]+)/([0-9]+)|([0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:(?: +|-)([0-9]+)/([0-9]+))?) *('{1,2}|"|[a-z]+\.?)? *`)

// A piece is one term as read: its number, and how many meters each is; each is 0 where no unit was said.
type piece struct{ number, each float64 }

// Parse reads a length and returns it in feet or in meters. A number without a unit is in that unit already, and after feet it is inches. ok is false
// for what is no length, as for five feet and fourteen inches, which is a slip more likely than a length.
func Parse(typed string, imperial bool) (x float64, ok bool) {
	rest := strings.ToLower(strings.TrimSpace(plain.Replace(typed)))
	rest, negative := strings.CutPrefix(rest, "-")
	unit := 1.0
	if imperial {
		unit = photometry.Foot
	}
	var pieces []piece
	for rest != "" {
		p, length, ok := firstPiece(rest, len(pieces) > 0 && pieces[len(pieces)-1].each == photometry.Foot)
		if !ok {
			return 0, false
		}
		pieces = append(pieces, p)
		rest = rest[length:]
		if rest != "" {
			rest = strings.TrimSpace(strings.TrimLeft(rest, "-,")) // as in 18'-6"
			if rest == "" {
				return 0, false
			}
		}
	}
	meters, ok := sum(pieces, unit)
	if negative {
		meters = -meters
	}
	return meters / unit, ok
}

// firstPiece reads the first term; after feet a number without a unit is inches.
func firstPiece(text string, afterFeet bool) (p piece, length int, ok bool) {
	found := term.FindStringSubmatch(text)
	if found == nil {
		return piece{}, 0, false
	}
	number, top, bottom := found[3], found[4], found[5]
	if found[1] != "" {
		number, top, bottom = "0", found[1], found[2]
	}
	p.number, _ = strconv.ParseFloat(number, 64)
	if top != "" {
		a, errA := strconv.ParseFloat(top, 64)
		b, errB := strconv.ParseFloat(bottom, 64)
		if errA != nil || errB != nil || !(b > 0) || !(a < b) || strings.Contains(number, ".") {
			return piece{}, 0, false
		}
		p.number += a / b
	}
	switch word := found[6]; {
	case word == "" && afterFeet:
		p.each = inch
	case word != "":
		if p.each, ok = units[word]; !ok {
			return piece{}, 0, false
		}
	}
	return p, len(found[0]), !math.IsInf(p.number, 0)
}

// sum adds the pieces up: one of any unit, or feet and inches, or meters and a smaller unit; each less than one of the unit before it.
func sum(pieces []piece, unit float64) (meters float64, ok bool) {
	for i, p := range pieces {
		switch {
		case p.each == 0 && len(pieces) > 1:
			return 0, false
		case p.each == 0:
			p.each = unit
		case i > 0 && (isMetric(p.each) != isMetric(pieces[i-1].each) || !(p.number*p.each < pieces[i-1].each*(1-1e-9)) || pieces[i-1].number != math.Trunc(pieces[i-1].number)):
			return 0, false
		}
		meters += p.number * p.each
	}
	return meters, len(pieces) > 0 && !math.IsInf(meters, 0)
}

func isMetric(each float64) bool { return each == 1 || each == centimeter || each == millimeter }

// Words is a length of feet as a tape shows it, to a sixteenth of an inch: 18 ft 6 1/2 in.
func Words(feet float64) string {
	n := int64(math.Round(math.Abs(feet) * perFoot))
	sign := ""
	if feet < 0 && n > 0 {
		sign = "-"
	}
	whole, parts := n/perFoot, n%perFoot
	inches := inchWords(parts)
	switch {
	case inches == "":
		return fmt.Sprintf("%s%d ft", sign, whole)
	case whole == 0:
		return sign + inches + " in"
	}
	return fmt.Sprintf("%s%d ft %s in", sign, whole, inches)
}

// inchWords are so many sixteenths of an inch.
func inchWords(n int64) string {
	whole, top, bottom := n/perInch, n%perInch, int64(perInch)
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case n == 0:
		return ""
	case top == 0:
		return strconv.FormatInt(whole, 10)
	case whole == 0:
		return fmt.Sprintf("%d/%d", top, bottom)
	}
	return fmt.Sprintf("%d %d/%d", whole, top, bottom)
}

// IsWhole tells that a length is so many feet and nothing besides, as a tape shows it.
func IsWhole(feet float64) bool { return math.Abs(feet-math.Round(feet)) < 0.5/perFoot }
