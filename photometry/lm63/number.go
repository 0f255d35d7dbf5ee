package lm63

import (
	"fmt"
	"math"
	"strconv"
)

const (
	longestNumber = 40   // characters
	largestNumber = 1e12 // in any unit; products of three stay finite
)

// parseNumber reads a decimal number; wrong says why it is none that a photometric file may hold.
func parseNumber(word []byte) (value float64, wrong string) {
	if len(word) > longestNumber {
		return 0, fmt.Sprintf("%s has %d characters", shown(word), len(word))
	}
	for _, c := range word {
		if (c < '0' || c > '9') && c != '+' && c != '-' && c != '.' && c != 'e' && c != 'E' { // no Inf, NaN, 0x1p4, 1_000
			return 0, shown(word) + " is not a number"
		}
	}
	value, err := strconv.ParseFloat(string(word), 64)
	switch {
	case math.IsInf(value, 0) || math.Abs(value) > largestNumber:
		return 0, fmt.Sprintf("%s is beyond %v", shown(word), float64(largestNumber))
	case err != nil:
		return 0, shown(word) + " is not a number"
	}
	return value, ""
}

// formatted is the shortest text that reads back as the same number, without an exponent where that is not long.
func formatted(value float64) string {
	if text := strconv.FormatFloat(value, 'f', -1, 64); len(text) <= 24 {
		return text
	}
	return strconv.FormatFloat(value, 'e', -1, 64)
}

// number reads the next number, which the key names. A fault is noted, and bad is true.
func (r *reading) number(key, want string) (value float64, offset int, bad bool) {
	word, start, end := r.src.word(r.at)
	r.at = end
	if len(word) == 0 {
		r.ended = true
		r.found.add(r.src.end(), key, "the file ends", want)
		return 0, start, true
	}
	value, wrong := parseNumber(word)
	if wrong != "" {
		r.found.add(r.src.pos(start), key, wrong, want)
		return 0, start, true
	}
	return value, start, false
}

// integer reads the next number, which must be whole: 2, and 2.0 too.
func (r *reading) integer(key, want string) (value float64, offset int, bad bool) {
	value, offset, bad = r.number(key, want)
	if !bad && value != math.Trunc(value) {
		r.found.add(r.src.pos(offset), key, formatted(value), want)
		return 0, offset, true
	}
	return value, offset, bad
}

// numbers reads n numbers, of which the caller knows that the file can hold them. bad is set if one of them is none.
func (r *reading) numbers(key string, n int, bad *bool) (values []float64, offsets []int) {
	values, offsets = make([]float64, 0, n), make([]int, 0, n)
	for range n {
		value, offset, wrong := r.number(key, "a number")
		if r.ended {
			return values, offsets
		}
		if wrong && bad != nil {
			*bad = true
		}
		values, offsets = append(values, value), append(offsets, offset)
	}
	return values, offsets
}
