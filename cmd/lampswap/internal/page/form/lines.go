package form

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/tomltext"
)

// Values of several lines have one box, a line for each element.

// isLines tells that a field has a box of several lines.
func (f Field) isLines() bool { return f.kind >= paragraph }

// mostLines is how many lines such a box shows at once.
const mostLines = 8

// lines shows the value at a path as lines.
func (f Field) lines(t *tomltext.Text) string {
	switch v := t.Value(f.Path).(type) {
	case nil:
		return ""
	case string:
		return strings.ReplaceAll(v, "\r\n", "\n")
	case []any:
		var all []string
		for _, element := range v {
			all = append(all, f.line(element))
		}
		return strings.Join(all, "\n")
	}
	return t.Raw(f.Path)
}

// line shows an element.
func (f Field) line(element any) string {
	switch e := element.(type) {
	case []any:
		between := ", "
		if f.kind == steps {
			between = " | "
		}
		var cells []string
		for _, cell := range e {
			cells = append(cells, plainValue(cell))
		}
		return strings.Join(cells, between)
	case map[string]any: // a shift
		days := plainValue(e["days"])
		if list, ok := e["days"].([]any); ok {
			days = f.line(list)
		}
		line := days + ", " + plainValue(e["from"]) + ", " + plainValue(e["to"])
		if weeks, ok := e["weeks"]; ok {
			line += ", " + plainValue(weeks)
		}
		return line
	default:
		return plainValue(element)
	}
}

// plainValue writes a value as one types it.
func plainValue(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	default:
		return fmt.Sprint(v)
	}
}

// rawLines writes what was typed as TOML; nothing typed is "".
func (f Field) rawLines(typed string, imperial bool, newline string) string {
	if f.kind == paragraph {
		return tomltext.QuoteLines(typed, newline)
	}
	var all []string
	for line := range strings.SplitSeq(typed, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			all = append(all, f.rawLine(line, imperial))
		}
	}
	switch {
	case len(all) == 0:
		return ""
	case f.kind == texts && len(all) == 1:
		return all[0]
	case len(all) <= mostLines:
		return "[" + strings.Join(all, ", ") + "]"
	}
	return "[" + newline + "  " + strings.Join(all, ","+newline+"  ") + "," + newline + "]"
}

// rawLine writes one line as TOML.
func (f Field) rawLine(line string, imperial bool) string {
	if f.kind == rows {
		cells := cellsOf(line)
		for i, c := range cells {
			cells[i] = literalOf(numeric, f.columns[min(i, len(f.columns)-1)], c, imperial)
		}
		return "[" + strings.Join(cells, ", ") + "]"
	}
	if write := lineWriters[f.kind]; write != nil {
		return write(line)
	}
	return tomltext.Quote(line)
}

// lineWriters write lines that are neither numbers nor plain texts.
var lineWriters = map[kind]func(line string) string{amounts: rawAmount, steps: rawStep, shifts: rawShift}

// rawAmount writes what costs how much: material, 9200.
func rawAmount(line string) string {
	at := strings.LastIndexAny(line, ",:\t ")
	name, amount := strings.TrimRight(line[:max(at, 0)], ",: "), line[at+1:]
	return "[" + tomltext.Quote(strings.TrimSpace(name)) + ", " + literal(numeric, amount) + "]"
}

// rawStep writes what is done, and when.
func rawStep(line string) string {
	what, when, _ := strings.Cut(line, "|")
	return "[" + tomltext.Quote(strings.TrimSpace(what)) + ", " + tomltext.Quote(strings.TrimSpace(when)) + "]"
}

// cellsOf are the numbers of a line, apart by commas or, where there is none, by blanks.
func cellsOf(line string) []string {
	line = strings.Trim(line, "[], ")
	if !strings.Contains(line, ",") {
		return strings.Fields(line)
	}
	cells := strings.Split(line, ",")
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	return cells
}

// between are the signs between the words of a shift.
var between = regexp.MustCompile(`[,\s]+`)

// rawShift writes a shift: days, when it begins and ends, and weeks of a year.
func rawShift(line string) string {
	words := slices.DeleteFunc(between.Split(line, -1), func(w string) bool { return w == "" || w == "to" || w == "weeks" })
	clock := slices.IndexFunc(words, func(w string) bool { return w[0] >= '0' && w[0] <= '9' })
	if clock < 0 {
		clock = len(words)
	}
	var days []string
	for _, d := range words[:clock] {
		days = append(days, tomltext.Quote(d))
	}
	raw := "days = " + strings.Join(days, ", ")
	if len(days) != 1 {
		raw = "days = [" + strings.Join(days, ", ") + "]"
	}
	for i, key := range []string{"from", "to", "weeks"} {
		if clock+i >= len(words) {
			break
		}
		value := tomltext.Quote(words[clock+i])
		if key == "weeks" {
			value = literal(numeric, words[clock+i])
		}
		raw += ", " + key + " = " + value
	}
	return "{ " + raw + " }"
}

// applyLines changes the text where the lines are not those that were shown.
func (f Field) applyLines(t *tomltext.Text, typed string) error {
	typed = strings.TrimSpace(strings.ReplaceAll(typed, "\r\n", "\n"))
	if typed == strings.TrimSpace(f.lines(t)) {
		return nil
	}
	if _, isValue := t.Value(f.Path).([]any); isValue && t.Raw(f.Path) == "" { // tables of their own, which one list takes the place of
		for i := t.Count(f.Path) - 1; i >= 0; i-- {
			if err := t.RemoveElement(f.Path, i); err != nil {
				return err
			}
		}
	}
	raw := f.rawLines(typed, Shown(t, "units") != "metric", t.Newline())
	if typed == "" || raw == "" {
		return t.Delete(f.Path)
	}
	return t.Set(f.Path, raw)
}
