package lm63

import (
	"bytes"
	"errors"
	"fmt"
	"sort"
	"unicode/utf8"

	"lampswap/photometry/diag"
)

// A source is the text of a file, byte for byte, that knows the place of each byte.
type source struct {
	name   string
	text   []byte
	starts []int // offset of the first byte of each line
	latin1 bool  // the bytes are not UTF-8
}

var byteOrderMark = []byte("\ufeff")

// newSource cuts off what frames a text (byte-order marks, the end-of-file byte of DOS, the zeros that fill a block) and finds the lines.
func newSource(name string, text []byte) *source {
	for bytes.HasPrefix(text, byteOrderMark) {
		text = text[len(byteOrderMark):]
	}
	end := len(bytes.TrimRight(text, "\x1a\x00 \t\r\n"))
	if filled := bytes.IndexAny(text[end:], "\x1a\x00"); filled >= 0 && end > 0 && !diag.UTF16(text) {
		text = text[:end+filled]
	}
	s := &source{name: name, text: text, starts: []int{0}, latin1: !utf8.Valid(text)}
	for i, c := range text {
		if c == '\n' || c == '\r' && (i+1 == len(text) || text[i+1] != '\n') {
			s.starts = append(s.starts, i+1)
		}
	}
	return s
}

// pos is the place of the byte at an offset.
func (s *source) pos(offset int) diag.Pos {
	line := sort.SearchInts(s.starts, offset+1)
	return diag.Pos{File: s.name, Line: line, Column: offset - s.starts[line-1] + 1}
}

// end is the place after the last byte that is not blank.
func (s *source) end() diag.Pos { return s.pos(len(bytes.TrimRight(s.text, " \t\r\n"))) }

// line returns a line, counted from 0, without its end, and the offset of its first byte.
func (s *source) line(i int) (text []byte, offset int) {
	offset = s.starts[i]
	end := len(s.text)
	if i+1 < len(s.starts) {
		end = s.starts[i+1]
	}
	return bytes.TrimRight(s.text[offset:end], "\r\n"), offset
}

// decode turns bytes of the source into UTF-8.
func (s *source) decode(raw []byte) string {
	if !s.latin1 {
		return string(raw)
	}
	runes := make([]rune, len(raw))
	for i, c := range raw {
		runes[i] = rune(c) // Latin-1 is the first 256 code points
	}
	return string(runes)
}

// refuseBinary notes the bytes that no text file has.
func (s *source) refuseBinary(found *faults) {
	if diag.UTF16(s.text) {
		found.add(s.pos(0), "", diag.WrongUTF16, diag.WantUTF8)
		return
	}
	for i, c := range s.text {
		if control(rune(c)) {
			found.add(s.pos(i), "", fmt.Sprintf("byte 0x%02x is no text", c), "a text file")
			return // a binary file has thousands
		}
	}
}

// control tells whether a character is no part of a line of text.
func control(c rune) bool { return c < ' ' && c != '\t' && c != '\r' && c != '\n' || c == 0x7f }

// separates tells whether a byte stands between numbers.
func separates(c byte) bool { return c == ' ' || c == '\t' || c == ',' || c == '\r' || c == '\n' }

// word returns the next word at or after an offset and where it starts and ends; an empty one at the end of the text.
func (s *source) word(at int) (word []byte, start, end int) {
	for at < len(s.text) && separates(s.text[at]) {
		at++
	}
	start = at
	for at < len(s.text) && !separates(s.text[at]) {
		at++
	}
	return s.text[start:at], start, at
}

// words counts the words at or after an offset.
func (s *source) words(at int) int {
	n := 0
	for {
		word, _, end := s.word(at)
		if len(word) == 0 {
			return n
		}
		n, at = n+1, end
	}
}

// faults collects what is wrong, up to a number that a person will read.
type faults struct {
	list diag.List
	left int
}

const mostFaults = 40

func (f *faults) add(pos diag.Pos, key, wrong, want string) {
	if len(f.list) >= mostFaults {
		f.left++
		return
	}
	f.list.Add(pos, key, wrong, want)
}

func (f *faults) any() bool { return len(f.list) > 0 }

// err returns a diag.List, or nil if nothing is wrong.
func (f *faults) err() error {
	err := f.list.Err()
	var sorted diag.List
	if f.left > 0 && errors.As(err, &sorted) {
		sorted.Add(sorted[len(sorted)-1].Pos, "", fmt.Sprintf("%d more faults are not listed", f.left), "")
		return sorted
	}
	return err
}
