package lm63

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// headers are the format lines; from memory, unverified.
var headers = map[Edition]string{
	Edition1991: "IESNA91",
	Edition1995: "IESNA:LM-63-1995",
	Edition2002: "IESNA:LM-63-2002",
	Edition2019: "IES:LM-63-2019",
}

var (
	headerLine = regexp.MustCompile(`^(?i:IES(?:NA)?[: ]*(?:LM-?63-?)?(\d{4}|\d\d))$`)
	headerLike = regexp.MustCompile(`^(?i:IES(?:NA)?[: ]*LM-?63\S*|IESNA\d\S*)$`)
	tiltLine   = regexp.MustCompile(`^(?i:TILT[ \t]*=)`)
	editionOf  = map[string]Edition{
		"86": Edition1986, "1986": Edition1986, "91": Edition1991, "1991": Edition1991, "95": Edition1995, "1995": Edition1995,
		"02": Edition2002, "2002": Edition2002, "19": Edition2019, "2019": Edition2019,
	}
)

const (
	wantTilt = "TILT=NONE, TILT=INCLUDE or TILT= and the name of a file beside this one"

	mostLabels    = 10000 // lines above TILT=; a claim on memory
	longestLine   = 2000  // bytes of a line of text
	longestName   = 40    // letters of a keyword; the standard has 18, from memory
	numberColumns = 78    // characters a written line of numbers may have, within the limit of every edition
)

// lineLimit is the number of characters that a line of text may have, without its end: 80 up to 1995, 256 with CR LF since 2002.
// From memory, unverified.
func (e Edition) lineLimit() int {
	if e >= Edition2002 {
		return 254
	}
	return 80
}

// trimmed cuts blanks off a line of text, and byte-order marks, which a written file would lose if they stood first.
func trimmed(text string) string { return strings.Trim(text, " \t\ufeff") }

// parseLabel reads one line of text.
func parseLabel(line string) Keyword {
	line = trimmed(line)
	if end := strings.IndexByte(line, ']'); end > 0 && line[0] == '[' {
		if name := trimmed(line[1:end]); name != "" {
			return Keyword{name, trimmed(line[end+1:])}
		}
	}
	return Keyword{Text: line}
}

// String is the line that holds the keyword.
func (k Keyword) String() string {
	switch {
	case k.Name == "":
		return k.Text
	case k.Text == "":
		return "[" + k.Name + "]"
	}
	return "[" + k.Name + "] " + k.Text
}

// fault says why a keyword cannot stand on a line of its own, "" if it can.
func (k Keyword) fault(limit int) string {
	line := k.String()
	switch {
	case !utf8.ValidString(line) || strings.ContainsAny(line, "\r\n") || strings.ContainsFunc(line, control):
		return fmt.Sprintf("%q has characters that are no line of text", line)
	case utf8.RuneCountInString(k.Name) > longestName:
		return fmt.Sprintf("the keyword has %d letters", utf8.RuneCountInString(k.Name))
	case k.Name == "" && (headerLike.MatchString(line) || headerLine.MatchString(line)):
		return fmt.Sprintf("%q is a format line", line)
	case k.Name == "" && tiltLine.MatchString(line):
		return fmt.Sprintf("%q ends the text", line)
	case parseLabel(line) != k:
		return fmt.Sprintf("%q reads back as another keyword", line)
	case utf8.RuneCountInString(line) > limit:
		return fmt.Sprintf("the line has %d characters", utf8.RuneCountInString(line))
	}
	return ""
}

// fitted breaks a keyword whose line is too long at blanks, or anywhere where there is none, into lines of at most limit
// characters: [MORE] lines after a keyword, label lines after a label line. Where no break will do it stays as it is.
func fitted(k Keyword, limit int) []Keyword {
	lines := []Keyword{k}
	for {
		last := lines[len(lines)-1]
		if utf8.RuneCountInString(last.String()) <= limit {
			return lines
		}
		head, rest, ok := broken(last, limit)
		if !ok {
			return lines
		}
		lines[len(lines)-1] = head
		lines = append(lines, rest)
	}
}

// broken takes as much of a keyword as a line may have, and the rest.
func broken(k Keyword, limit int) (head, rest Keyword, ok bool) {
	more := ""
	if k.Name != "" {
		more = "MORE"
	}
	text := []rune(k.Text)
	room := limit - (utf8.RuneCountInString(k.String()) - len(text))
	if room <= 0 {
		return k, k, false
	}
	split := func(at int) bool {
		head, rest = Keyword{k.Name, trimmed(string(text[:at]))}, Keyword{more, trimmed(string(text[at:]))}
		return head.Text != "" && head.fault(limit) == "" && rest.Text != "" && rest.fault(len(text)+limit) == ""
	}
	for at := room; at > room/2; at-- {
		if text[at] == ' ' && split(at) {
			return head, rest, true
		}
	}
	for at := room; at > room/2; at-- {
		if split(at) {
			return head, rest, true
		}
	}
	return k, k, false
}

// readText reads what stands above TILT= and returns the index of that line. ok is false if there is no use in reading on.
func (r *reading) readText() (tilt int, ok bool) {
	src := r.src
	tilt, nearTilt := -1, -1
	for i := range src.starts {
		line, _ := src.line(i)
		text := trimmed(src.decode(line))
		if tiltLine.MatchString(text) {
			tilt = i
			break
		}
		if nearTilt < 0 && len(text) >= 4 && strings.EqualFold(text[:4], "TILT") {
			nearTilt = i
		}
	}
	switch {
	case tilt < 0 && nearTilt >= 0:
		line, offset := src.line(nearTilt)
		r.found.add(src.pos(offset), "TILT", shown(line), wantTilt)
		return 0, false
	case tilt < 0:
		r.found.add(src.end(), "TILT", "the file ends without a TILT= line", wantTilt)
		return 0, false
	case tilt > mostLabels:
		r.found.add(src.pos(src.starts[mostLabels]), "", fmt.Sprintf("%d lines stand above TILT=", tilt), fmt.Sprintf("at most %d", mostLabels))
		return 0, false
	}
	first := r.readHeader(tilt)
	for i := first; i < tilt; i++ {
		r.readLabel(i)
	}
	r.warnOfKeywords()
	return tilt, true
}

var yearLike = regexp.MustCompile(`(\d{4}|\d\d)\D*$`)

// editionBefore is the newest edition that is known and no younger than the year in a format line; LM-63-2002, which leaves the doubtful field
// after the ballast factor out of account, where there is no year.
func editionBefore(line string) Edition {
	match := yearLike.FindStringSubmatch(strings.Replace(line, "63", "", 1))
	if match == nil {
		return Edition2002
	}
	year, _ := strconv.Atoi(match[1]) // digits alone
	if year < 100 {
		year += 1900
		if year < int(Edition1986) {
			year += 100
		}
	}
	edition := Edition1986
	for _, known := range []Edition{Edition1991, Edition1995, Edition2002, Edition2019} {
		if int(known) <= year {
			edition = known
		}
	}
	return edition
}

// readHeader finds the edition and returns the line after the format line. Without one the edition is that of 1986.
func (r *reading) readHeader(tilt int) (next int) {
	r.file.Edition = Edition1986
	for i := range tilt {
		line, _ := r.src.line(i)
		text := trimmed(r.src.decode(line))
		if text == "" {
			continue
		}
		match := headerLine.FindStringSubmatch(text)
		if match == nil && !headerLike.MatchString(text) {
			return 0
		}
		if match == nil || editionOf[match[1]] == 0 {
			r.file.Edition = editionBefore(text)
			r.warn("the format line %s names no edition that is known here: the file is read as %s", shown(line), r.file.Edition)
			return i + 1
		}
		r.file.Edition = editionOf[match[1]]
		switch usual := headers[r.file.Edition]; {
		case usual == "":
			r.warn("the format line %q is read as LM-63-1986, which has none", text)
		case text != usual:
			r.warn("the format line %q is read as %s", text, usual)
		case i > 0:
			r.warn("blank lines before the format line are left out")
		}
		return i + 1
	}
	return 0
}

func (r *reading) readLabel(i int) {
	line, offset := r.src.line(i)
	if len(line) > longestLine {
		r.found.add(r.src.pos(offset), "", fmt.Sprintf("the line has %d bytes", len(line)), fmt.Sprintf("at most %d", longestLine))
		return
	}
	k, limit := parseLabel(r.src.decode(line)), r.file.Edition.lineLimit()
	parts := fitted(k, limit)
	for _, part := range parts {
		if wrong := part.fault(limit); wrong != "" {
			want := fmt.Sprintf("a keyword or a line of text of at most %d characters", limit)
			r.found.add(r.src.pos(offset), "", wrong, want)
			return
		}
	}
	if len(parts) > 1 {
		r.warn("line %d has %d characters, %s allows %d: it is continued on the next line", i+1,
			utf8.RuneCountInString(k.String()), r.file.Edition, limit)
	}
	r.file.Keywords = append(r.file.Keywords, parts...)
}

// warnOfKeywords tells of continuations and blocks that have nothing to belong to.
func (r *reading) warnOfKeywords() {
	open := 0
	for i, k := range r.file.Keywords {
		switch strings.ToUpper(k.Name) {
		case "MORE":
			if i == 0 || r.file.Keywords[i-1].Name == "" {
				r.warn("a [MORE] line has no keyword before it")
			}
		case "BLOCK":
			open++
		case "ENDBLOCK":
			open--
			if open < 0 {
				r.warn("an [ENDBLOCK] has no [BLOCK] before it")
				open = 0
			}
		}
	}
	if open > 0 {
		r.warn("a [BLOCK] is not closed by [ENDBLOCK]")
	}
}

// shown quotes what was found, at most so much that it fits on a line.
func shown(raw []byte) string {
	const most = 40
	if len(raw) > most {
		return fmt.Sprintf("%q...", raw[:most])
	}
	return fmt.Sprintf("%q", raw)
}
