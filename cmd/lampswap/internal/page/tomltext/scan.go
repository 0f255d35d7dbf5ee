package tomltext

import (
	"fmt"
	"strings"
)

// A scanner finds where everything stands in a text that go-toml has found to be TOML; it checks nothing itself.
type scanner struct {
	text   string
	at     int
	counts map[string]int // elements of the arrays of tables so far
}

func (s *scanner) sections() []section {
	s.at = len(s.text) - len(strings.TrimPrefix(s.text, "\ufeff"))
	all := []section{{body: s.at, contentEnd: s.at}}
	for s.skip(); s.at < len(s.text); s.skip() {
		if s.text[s.at] == '[' {
			start := s.lineStart()
			path := s.header()
			s.endLine()
			all = append(all, section{path: path, start: start, body: s.at, contentEnd: s.at})
			continue
		}
		last := &all[len(all)-1]
		start := s.lineStart()
		p := s.keyValue(last.path)
		s.endLine()
		p.start, p.end = start, s.at
		last.pairs, last.contentEnd = append(last.pairs, p), s.at
	}
	return all
}

// skip passes over blanks, line ends and comments.
func (s *scanner) skip() {
	for s.at < len(s.text) {
		switch s.text[s.at] {
		case ' ', '\t', '\r', '\n':
			s.at++
		case '#':
			s.to('\n')
		default:
			return
		}
	}
}

func (s *scanner) blanks() {
	for s.at < len(s.text) && (s.text[s.at] == ' ' || s.text[s.at] == '\t') {
		s.at++
	}
}

// to goes to the next such byte, or to the end.
func (s *scanner) to(b byte) {
	if i := strings.IndexByte(s.text[s.at:], b); i >= 0 {
		s.at += i
		return
	}
	s.at = len(s.text)
}

func (s *scanner) lineStart() int { return strings.LastIndexByte(s.text[:s.at], '\n') + 1 }

// endLine goes past the end of the line.
func (s *scanner) endLine() {
	s.to('\n')
	s.at = min(s.at+1, len(s.text))
}

// header returns the path of a [table] or the next element of a [[table]].
func (s *scanner) header() string {
	array := strings.HasPrefix(s.text[s.at:], "[[")
	s.at++
	if array {
		s.at++
	}
	keys := s.keys()
	path := ""
	for i, key := range keys {
		path = joinPath(path, key)
		if array && i == len(keys)-1 {
			s.counts[path]++
		}
		if n := s.counts[path]; n > 0 {
			path = fmt.Sprintf("%s[%d]", path, n-1)
		}
	}
	return path
}

func joinPath(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// keys reads a dotted key.
func (s *scanner) keys() []string {
	var keys []string
	for {
		s.blanks()
		start := s.at
		switch s.text[s.at] {
		case '"', '\'':
			s.str()
			keys = append(keys, s.text[start+1:s.at-1])
		default:
			for s.at < len(s.text) && !strings.ContainsRune(" \t.=]", rune(s.text[s.at])) {
				s.at++
			}
			keys = append(keys, s.text[start:s.at])
		}
		s.blanks()
		if s.at >= len(s.text) || s.text[s.at] != '.' {
			return keys
		}
		s.at++
	}
}

// keyValue reads key = value; the pair's bounds are those of the text from the key to the end of the value.
func (s *scanner) keyValue(prefix string) pair {
	start := s.at
	path := prefix
	for _, key := range s.keys() {
		path = joinPath(path, key)
	}
	s.at++ // past the =
	s.blanks()
	p := s.value(path)
	p.start, p.end = start, p.to
	return p
}

func (s *scanner) value(path string) pair {
	p := pair{path: path, start: s.at, value: s.at}
	switch s.text[s.at] {
	case '"', '\'':
		s.str()
	case '[', '{':
		p.open = s.text[s.at]
		s.at++
		p.parts = s.parts(path, p.open)
	default:
		for s.at < len(s.text) && !strings.ContainsRune(",]}#\r\n", rune(s.text[s.at])) {
			s.at++
		}
		s.at = p.value + len(strings.TrimRight(s.text[p.value:s.at], " \t"))
	}
	p.end, p.to = s.at, s.at
	return p
}

// parts reads the elements of an array or the pairs of an inline table, up to its end.
func (s *scanner) parts(path string, open byte) []pair {
	var parts []pair
	for {
		s.skip()
		switch {
		case s.text[s.at] == open+2: // its partner
			s.at++
			return parts
		case s.text[s.at] == ',':
			s.at++
		case open == '{':
			parts = append(parts, s.keyValue(path))
		default:
			parts = append(parts, s.value(fmt.Sprintf("%s[%d]", path, len(parts))))
		}
	}
}

// str goes past a string of any of the four kinds.
func (s *scanner) str() {
	quote := s.text[s.at : s.at+1]
	end := quote
	if strings.HasPrefix(s.text[s.at:], strings.Repeat(quote, 3)) {
		end = strings.Repeat(quote, 3)
	}
	s.at += len(end)
	for !strings.HasPrefix(s.text[s.at:], end) {
		if s.text[s.at] == '\\' && quote == `"` {
			s.at++
		}
		s.at++
	}
	s.at += len(end)
	for len(end) == 3 && strings.HasPrefix(s.text[s.at:], quote) { // up to two quotes may stand right before the end
		s.at++
	}
}

// Bounded errs if a text would take more time or memory to read than is in proportion to its length. The text need not be TOML.
func Bounded(text string) error {
	if line := tooDeep(text); line > 0 {
		return fmt.Errorf("at line %d, tables, lists or dotted keys go more than %d deep", line, mostDeep)
	}
	if line := tooMany(text); line > 0 {
		return fmt.Errorf("at line %d, there are more than %d keys", line, mostKeys)
	}
	return nil
}

// mostDeep is how deep tables, lists and dotted keys may go. The path of each value is as long as it is deep, so a text that is nothing but
// depth would take its length squared of memory.
const mostDeep = 40

// mostKeys is how many keys and tables a text may have: the parser looks through those of a table for each one, so that their number squared
// is its time.
const mostKeys = 10_000

// tooMany returns the line at which a text has more than mostKeys; 0 if it has not. It counts equals signs and what looks like a header,
// outside lines that are comments: never too few.
func tooMany(text string) int {
	keys, number := 0, 0
	for line := range strings.Lines(text) {
		number++
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "#") {
			continue
		}
		if keys += strings.Count(line, "="); strings.HasPrefix(line, "[") && !strings.Contains(line, ",") {
			keys++
		}
		if keys > mostKeys {
			return number
		}
	}
	return 0
}

// tooDeep returns the line at which a text goes too deep; 0 if none does.
func tooDeep(text string) int {
	depth, dots, line := 0, 0, 1
	for i := 0; i < len(text); i++ {
		switch c := text[i]; c {
		case '\n':
			line++
			dots = 0
		case '#':
			for i+1 < len(text) && text[i+1] != '\n' {
				i++
			}
		case '"', '\'':
			i = pastQuote(text, i)
		case '[', '{':
			depth++
			dots = 0
		case ']', '}':
			depth = max(0, depth-1)
			dots = 0
		case '=', ',':
			dots = 0
		case '.':
			dots++
		}
		if depth > mostDeep || dots > mostDeep {
			return line
		}
	}
	return 0
}

// pastQuote returns the place of the quote that ends a string on its line, or else of the one that begins it.
func pastQuote(text string, start int) int {
	for i := start + 1; i < len(text) && text[i] != '\n'; i++ {
		switch {
		case text[i] == '\\' && text[start] == '"':
			i++
		case text[i] == text[start]:
			return i
		}
	}
	return start
}
