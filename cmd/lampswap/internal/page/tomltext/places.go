package tomltext

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// A placer finds where everything stands in a text that is TOML. The parser knows where each key and each plain value
// stands; what is around them in lists and tables is found from there, as it is but blanks, comments, commas and brackets.
type placer struct {
	text   string
	counts map[string]int // elements of the arrays of tables so far
}

func sectionsOf(text string) []section {
	p := placer{text, map[string]int{}}
	begin := len(text) - len(strings.TrimPrefix(text, mark))
	all := []section{{body: begin, contentEnd: begin}}
	data := []byte(text)
	copy(data, "   "[:begin]) // in the place of the mark
	parser := unstable.Parser{}
	parser.Reset(data)
	for parser.NextExpression() {
		e := parser.Expression()
		if e.Kind != unstable.KeyValue {
			all = append(all, p.header(e))
			continue
		}
		last := &all[len(all)-1]
		pair := p.keyValue(last.path, e)
		pair.start, pair.end = p.lineStart(pair.start), p.lineEnd(pair.to)
		last.pairs, last.contentEnd = append(last.pairs, pair), pair.end
	}
	return all
}

// mark is the byte order mark that some editors put before a text.
const mark = "\ufeff"

func (p *placer) lineStart(at int) int { return strings.LastIndexByte(p.text[:at], '\n') + 1 }

// lineEnd is past the end of the line.
func (p *placer) lineEnd(at int) int {
	if i := strings.IndexByte(p.text[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(p.text)
}

// bounds of a node that the parser places.
func bounds(n *unstable.Node) (from, to int) {
	return int(n.Raw.Offset), int(n.Raw.Offset + n.Raw.Length)
}

// header is the section of a [table] or of the next element of a [[table]].
func (p *placer) header(e *unstable.Node) section {
	s := section{name: -1}
	for it := e.Key(); it.Next(); {
		from, to := bounds(it.Node())
		if s.nameEnd = to; s.name < 0 {
			s.name = from
		}
		s.path = joinPath(s.path, string(it.Node().Data))
		if it.IsLast() && e.Kind == unstable.ArrayTable {
			p.counts[s.path]++
		}
		if n := p.counts[s.path]; n > 0 {
			s.path = fmt.Sprintf("%s[%d]", s.path, n-1)
		}
	}
	s.start, s.body = p.lineStart(s.name), p.lineEnd(s.nameEnd)
	s.contentEnd = s.body
	return s
}

func joinPath(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// keyValue places key = value; the pair's bounds are those of the text from the key to the end of the value.
func (p *placer) keyValue(prefix string, e *unstable.Node) pair {
	path, at := prefix, 0
	for it := e.Key(); it.Next(); {
		path = joinPath(path, string(it.Node().Data))
		_, at = bounds(it.Node())
	}
	at += strings.IndexByte(p.text[at:], '=') + 1
	found := p.value(path, e.Value(), at)
	found.start, _ = bounds(e)
	return found
}

// value places a value of which nothing but blanks, comments and commas is between it and a place before it.
func (p *placer) value(path string, v *unstable.Node, after int) pair {
	found := pair{path: path}
	found.value, found.to = bounds(v)
	if v.Kind == unstable.Array || v.Kind == unstable.InlineTable { // which the parser does not place as a whole
		found.value = p.past(after)
		found.open, found.to = p.text[found.value], found.value+1
		for it := v.Children(); it.Next(); {
			part := pair{}
			if v.Kind == unstable.InlineTable {
				part = p.keyValue(path, it.Node())
			} else {
				part = p.value(fmt.Sprintf("%s[%d]", path, len(found.parts)), it.Node(), found.to)
			}
			found.parts, found.to = append(found.parts, part), part.to
		}
		found.to = p.past(found.to) + 1 // its own bracket
	}
	found.start, found.end = found.value, found.to
	return found
}

// past is where what follows blanks, line ends, comments and commas begins.
func (p *placer) past(at int) int {
	for {
		at += len(p.text[at:]) - len(strings.TrimLeft(p.text[at:], " \t\r\n,"))
		if !strings.HasPrefix(p.text[at:], "#") {
			return at
		}
		at = p.lineEnd(at)
	}
}
