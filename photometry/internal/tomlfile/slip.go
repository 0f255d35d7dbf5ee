package tomlfile

import (
	"regexp"
	"strings"
	"sync"

	"lampswap/photometry/diag"
)

// A slip is a number as a person writes it and TOML does not: 13,950 or 18 ft or a dash. Its fault says what to write, and the rest of the file
// is read on as if the key had no value.

// mostSlips bounds how many slips are read over, each of which costs another parsing.
const mostSlips = 20

// pattern is compiled when it is first asked: few files have slips, and all of these take a millisecond.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

var (
	// A line with one value that is neither a text nor a list nor a table.
	slippedLine = pattern(`^\s*([A-Za-z0-9_-]+(?:\s*\.\s*[A-Za-z0-9_-]+)*)\s*=[ \t]*([^\s"'\[{#][^#\[\]{}]*?)\s*(?:#.*)?$`)
	// A decimal comma within an inline table.
	slippedIn   = pattern(`([A-Za-z0-9_-]+)\s*=\s*([+-]?\d+,\d+)`)
	inlineTable = pattern(`^\s*([A-Za-z0-9_.-]+)\s*=\s*\{`)
)

// mend takes a slip out of the text where its syntax is wrong, and notes its fault. It is false where the fault is none of these.
func (f *File) mend(data []byte, line, column int) bool {
	if line < 1 || line > len(f.lines) {
		return false
	}
	start, end := f.lines[line-1], len(data)
	if line < len(f.lines) {
		end = f.lines[line] - 1
	}
	text := data[start:end]
	found := slippedLine().FindSubmatchIndex(text)
	if found == nil {
		for _, m := range slippedIn().FindAllSubmatchIndex(text, -1) {
			if m[0] < column {
				found = m
			}
		}
	}
	if found == nil {
		return false
	}
	value := text[found[4]:found[5]]
	wrong, want := misread(string(value))
	if want == "" {
		return false
	}
	at := f.placeOf(start + found[4])
	if f.slipped[at] {
		return false // the fault is another one
	}
	key := strings.Join(strings.Fields(string(text[found[2]:found[3]])), "")
	if outer := inlineTable().FindSubmatch(text[:found[0]]); outer != nil {
		key = join(string(outer[1]), key)
	}
	f.Faults.Add(at, join(f.prefix, key), wrong, want)
	f.slipped[at] = true
	for i := range value {
		value[i] = ' '
	}
	value[0] = '0' // a value, which nobody is told of
	return true
}

// numberLike is a number with whatever signs in it, and what stands before and behind it.
var numberLike = pattern(`^(?:([$€£]|[A-Z]{3}) ?)?([+−–-]?\d[\d.,'’_ \x{a0}\x{202f}]*|[+−–-]?\.\d+)(.*)$`)

// misread says what is wrong with a value that is no number of TOML, and what would be right; "" if it is none that is understood.
func misread(text string) (wrong, want string) {
	switch {
	case text != "" && strings.Trim(text, "-–—") == "":
		return "is a dash", "a number, or no such line if there is none"
	case strings.EqualFold(text, "yes") || strings.EqualFold(text, "true"):
		return "is " + text, "true"
	case strings.EqualFold(text, "no") || strings.EqualFold(text, "false"):
		return "is " + text, "false"
	}
	parts := numberLike().FindStringSubmatch(text)
	if parts == nil {
		return "", ""
	}
	sign, digits := parts[1], strings.TrimRight(parts[2], " ,'’_")
	unit := strings.TrimSpace(strings.TrimPrefix(parts[2], digits) + parts[3])
	number, why := plainNumber(digits)
	switch {
	case number == "":
		return "", ""
	case fraction().MatchString(unit):
		return "is " + text, "a decimal number, without a fraction"
	case !unitLike().MatchString(unit):
		return "", ""
	case unit == "%":
		return "is " + text, number + " without the sign; where a share is asked for, a fraction such as 0.6"
	case unit != "" || sign != "":
		return "is " + text, "the number alone, such as " + number + ", in the unit that the key has"
	case why == "":
		return "", ""
	}
	return "is " + text, number + ", " + why
}

var (
	thousands  = pattern(`^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$`)
	spaced     = pattern(`^[1-9]\d{0,2}(?:[ '’\x{a0}\x{202f}]\d{3})+(?:[.,]\d+)?$`)
	dotted     = pattern(`^[1-9]\d{0,2}(?:\.\d{3})+,\d+$|^[1-9]\d{0,2}(?:\.\d{3}){2,}$`)
	comma      = pattern(`^\d+,\d+$`)
	plainLike  = pattern(`^\d+(\.\d+)?$`)
	halfPoint  = pattern(`^\.\d+$|^\d+\.$`)
	fraction   = pattern(`^/ ?\d+$`)
	unitLike   = pattern(`^[\p{L}%°'"′″’”$€£²³/. ]{0,20}$`)
	leadingOff = pattern(`^0+(\d)`)
)

const noSeparators = "no thousands separators"

// plainNumber is a number as TOML has it, and what was wrong with the one given; "" for both where it is not understood, and no reason where
// nothing is wrong but what stands around it.
func plainNumber(text string) (number, why string) {
	minus := ""
	switch digits := strings.TrimLeft(text, "+-−–"); strings.TrimSuffix(text, digits) {
	case "", "+":
		text = digits
	case "-":
		text, minus = digits, "-"
	case "−", "–":
		text, minus, why = digits, "-", "with the minus of the keyboard"
	default:
		return "", ""
	}
	drop := func(signs string) string {
		return strings.Map(func(r rune) rune {
			if strings.ContainsRune(signs, r) {
				return -1
			}
			return r
		}, text)
	}
	switch {
	case thousands().MatchString(text):
		why = noSeparators
		if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
			why += "; or " + minus + strings.Replace(text, ",", ".", 1) + ", if that is a decimal comma"
		}
		text = drop(",")
	case spaced().MatchString(text):
		text, why = strings.Replace(drop(" '’\u00a0\u202f"), ",", ".", 1), noSeparators
	case dotted().MatchString(text):
		text, why = strings.Replace(drop("."), ",", ".", 1), noSeparators
	case comma().MatchString(text):
		text, why = strings.Replace(text, ",", ".", 1), "with a decimal point"
	case halfPoint().MatchString(text):
		if why = "with digits on both sides of the point"; text[0] == '.' {
			text = "0" + text
		} else {
			text += "0"
		}
	case plainLike().MatchString(text):
		if leadingOff().MatchString(text) {
			why = "without zeros before it"
		}
	default:
		return "", ""
	}
	return minus + leadingOff().ReplaceAllString(text, "$1"), why
}

// quoted says what to write in place of a text that holds a number as a person writes it; "" if it holds none.
func quoted(text string) string {
	text = strings.TrimSpace(text)
	if _, want := misread(text); want != "" {
		return want + ", without quotes"
	}
	return ""
}

// encoded notes a text that is UTF-16, of which nothing can be read.
func (f *File) encoded(data []byte) {
	if diag.UTF16(data) {
		f.Faults.Add(diag.Pos{File: f.Name, Line: 1, Column: 1}, "", diag.WrongUTF16, diag.WantUTF8)
		f.broken = true
	}
}
