package pen

import "strings"

// Wrap breaks text into lines of at most the width, by a measure of a line's: at its spaces, but for those that are no-break; a word that is
// longer is cut.
func Wrap(text string, width float64, measure func(string) float64) []string {
	var lines []string
	line := ""
	for word := range strings.SplitSeq(text, " ") {
		switch {
		case word == "":
			continue
		case line == "":
			line = word
		case measure(line+" "+word) <= width:
			line += " " + word
			continue
		default:
			lines, line = append(lines, line), word
		}
		for {
			head, rest := Cut(line, width, measure)
			if line = head; rest == "" {
				break
			}
			lines, line = append(lines, head), rest
		}
	}
	if line == "" {
		return lines
	}
	return append(lines, line)
}

// Cut takes as much off a word as a line of the width holds, one letter at least: after a hyphen, a point or the like where there is one in
// the second half of that.
func Cut(word string, width float64, measure func(string) float64) (head, rest string) {
	if measure(word) <= width {
		return word, ""
	}
	letters := []rune(word)
	n := 1
	for n < len(letters)-1 && measure(string(letters[:n+1])) <= width {
		n++
	}
	for k := n; k > n/2; k-- {
		if strings.ContainsRune("-._/,", letters[k-1]) {
			n = k
			break
		}
	}
	return string(letters[:n]), string(letters[n:])
}
