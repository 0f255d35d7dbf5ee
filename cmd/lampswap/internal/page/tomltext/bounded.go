package tomltext

import (
	"fmt"
	"strings"
)

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
