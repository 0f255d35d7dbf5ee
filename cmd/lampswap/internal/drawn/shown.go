package drawn

import (
	"html"
	"regexp"
	"strings"
)

var (
	// none are numbers that are none, as words of their own.
	none = regexp.MustCompile(`(?i)(^|[^\w.])[+-−]?(nan|inf|infinity)($|[^\w])|∞`)
	// signed are zeros with a sign.
	signed = regexp.MustCompile(`(^|[\s(,;:=>"])[-−]0(\.0+)?($|[\s),;:%<"])`)
	// beyond are numbers that no quantity here has.
	beyond = regexp.MustCompile(`(^|[^\w.])\d[\d.]*[eE][+-]\d{3}\b`)
	// tag is one of HTML or SVG, with its attributes, or what is not shown at all.
	tag = regexp.MustCompile(`(?s)<(script|style)\b.*?</(script|style)>|<!--.*?-->|<[^>]*>`)
)

// Odd returns the lines of a text that show a number which is none, a zero with a sign, or a number beyond all quantities. A job whose own
// numbers are of any size may bring forth others of any size; a line of the job itself is shown as it was typed.
func (j Job) Odd(text string) []string {
	typed := make(map[string]bool)
	for line := range strings.Lines(j.Text) {
		typed[strings.TrimSpace(line)] = true
	}
	var lines []string
	for line := range strings.Lines(text) {
		if typed[strings.TrimSpace(line)] {
			continue
		}
		if none.MatchString(line) || signed.MatchString(line) || !j.Fine && beyond.MatchString(line) {
			lines = append(lines, strings.TrimSpace(line))
		}
	}
	return lines
}

// OddMarkup does what Odd does for HTML and SVG: numbers that are none may not stand in tags either, the others only in what is shown.
func (j Job) OddMarkup(text string) []string {
	var lines []string
	for _, part := range tag.FindAllString(text, -1) {
		if !strings.HasPrefix(part, "<script") && !strings.HasPrefix(part, "<style") && none.MatchString(part) {
			lines = append(lines, part)
		}
	}
	return append(lines, j.Odd(html.UnescapeString(tag.ReplaceAllString(text, "\n")))...)
}
