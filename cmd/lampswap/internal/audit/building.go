package audit

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"lampswap/photometry/building"
	"lampswap/photometry/diag"
	"lampswap/photometry/job"
)

// Kinds are luminaires by their names, as the table [kinds] of a job or a building has them.
type Kinds map[string]any

// KindsOf are those of a TOML file. The files that they name lie where the given function says.
func KindsOf(name string, text []byte, moved func(file string) string) (Kinds, error) {
	var file struct{ Kinds map[string]map[string]any }
	if err := toml.Unmarshal(text, &file); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(file.Kinds) == 0 {
		return nil, fmt.Errorf("%s has no [kinds]", name)
	}
	all := Kinds{}
	for kind, keys := range file.Kinds {
		for _, key := range []string{"photometry", "fixture"} {
			if path, ok := keys[key].(string); ok && (key == "photometry" || strings.HasSuffix(path, ".toml")) {
				keys[key] = moved(path)
			}
		}
		all[kind] = keys
	}
	return all, nil
}

// find returns the name of a kind as it is spelled; "" where there is none.
func (k Kinds) find(name string) string {
	for known := range k {
		if strings.EqualFold(known, name) {
			return known
		}
	}
	return ""
}

// A Made is the file of a building made of a sheet.
type Made struct {
	Text     []byte
	Building *building.Building
	Defaults []string // what blank cells took
}

// Building makes the file of a building of the sheet. kinds and shelf may be nil. What is wrong is told of rows and columns, all at once, as a diag.List.
func (s *Sheet) Building(title string, metric bool, kinds Kinds, files job.Files, shelf *job.Shelf) (*Made, error) {
	w := &writer{sheet: s, kinds: kinds, metric: metric, used: map[string]bool{}, bad: map[string]bool{}}
	w.put(0, "# Made of the audit sheet "+comment(s.Name)+": `lampswap check` works it out; prices, costs and the like can be added.")
	w.put(0, "title = "+quoted(title))
	w.put(0, "units = "+quoted(map[bool]string{true: "metric", false: "imperial"}[metric]))
	for _, r := range s.Rows {
		w.kind(r, "existing")
		w.kind(r, "proposed")
	}
	if err := w.given(); err != nil {
		return nil, err
	}
	for _, group := range w.spaces() {
		w.space(group)
	}
	text := []byte(strings.Join(w.lines, "\n") + "\n")
	var b *building.Building
	if len(s.Rows) > 0 {
		var err error
		b, err = building.Read(s.Name, text, files, shelf)
		if err := w.told(err); err != nil {
			return nil, err
		}
	}
	if err := s.err(); err != nil {
		return nil, err
	}
	return &Made{text, b, w.defaults}, nil
}

// A writer makes the text of a building, and notes of which row each of its lines is.
type writer struct {
	sheet    *Sheet
	kinds    Kinds
	metric   bool
	lines    []string
	rows     []int
	columns  []string
	used     map[string]bool // kinds, by the name in the file
	bad      map[string]bool // cells that name no kind, in lower case
	defaults []string
}

func (w *writer) put(row int, line string) { w.from(row, "", line) }

func (w *writer) from(row int, column, line string) {
	w.lines, w.rows, w.columns = append(w.lines, line), append(w.rows, row), append(w.columns, column)
}

// quoted is a text as TOML has it; what a terminal would act on is none of it already.
func quoted(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(diag.Visible(text)) + `"`
}

// comment is a text in a comment.
func comment(text string) string { return diag.Visible(text) }

// key puts a key with the cell of a column: a number as it is, else a text, which is then told to be none.
func (w *writer) key(r Row, column, key string) bool {
	cell, ok := r.cells[column]
	if ok {
		w.from(r.Number, column, key+" = "+value(cell))
	}
	return ok
}

// value is a cell as TOML has it.
func value(cell string) string {
	if x, err := strconv.ParseFloat(cell, 64); err == nil && !math.IsInf(x, 0) && !math.IsNaN(x) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return quoted(cell)
}

// taken notes what a blank cell took.
func (w *writer) taken(r Row, column, took string) {
	w.defaults = append(w.defaults, fmt.Sprintf("row %d, %s: %s", r.Number, column, took))
}

// kind writes the kind of a cell where it is one of the lists: lamps, lamp, fixture, ballast.
func (w *writer) kind(r Row, column string) {
	cell, ok := r.cells[column]
	name := w.nameOf(cell)
	switch {
	case !ok || strings.EqualFold(cell, none) || w.used[name] || w.bad[strings.ToLower(cell)]:
		return
	case w.kinds.find(cell) != "":
		w.used[name] = true
		return
	}
	words := strings.Fields(cell)
	if len(words) > 1 && strings.EqualFold(words[1], "x") {
		words = slices.Delete(words, 1, 2)
	}
	if len(words) < 3 || len(words) > 4 || !isCount(words[0]) {
		w.bad[strings.ToLower(cell)] = true
		want := "lamps in one luminaire, lamp, fixture and ballast, as 2 F96T12 strip-4in magnetic"
		if len(w.kinds) > 0 {
			want = "a kind of --kinds, or " + want
		} else {
			want += ", or a kind of a job or building named by --kinds"
		}
		if near := diag.Nearest(cell, w.kinds.names()); near != "" {
			want = near + ", perhaps; " + want
		}
		w.sheet.fault(r.Number, column, quoted(cell)+" is no kind of luminaire", want)
		return
	}
	w.used[name] = true
	w.from(r.Number, column, "[kinds."+quoted(name)+"]")
	w.from(r.Number, column, "lamps = "+words[0])
	w.from(r.Number, column, "lamp = "+quoted(words[1]))
	w.from(r.Number, column, "fixture = "+quoted(words[2]))
	if len(words) > 3 {
		w.from(r.Number, column, "ballast = "+quoted(words[3]))
	}
}

func isCount(word string) bool {
	_, err := strconv.ParseUint(word, 10, 16)
	return err == nil
}

func (k Kinds) names() []string {
	var all []string
	for name := range k {
		all = append(all, name)
	}
	slices.Sort(all)
	return all
}

// nameOf is what a cell's kind is called in the file: as --kinds spells it, else the cell with single blanks.
func (w *writer) nameOf(cell string) string {
	if strings.EqualFold(cell, none) {
		return none
	}
	if known := w.kinds.find(cell); known != "" {
		return known
	}
	words := strings.Join(strings.Fields(cell), " ")
	for name := range w.used {
		if strings.EqualFold(name, words) {
			return name
		}
	}
	return words
}

// given writes those kinds of --kinds that the sheet uses.
func (w *writer) given() error {
	some := Kinds{}
	for name, keys := range w.kinds {
		if w.used[name] {
			some[name] = keys
		}
	}
	if len(some) == 0 {
		return nil
	}
	text, err := toml.Marshal(map[string]any{"kinds": some})
	if err != nil {
		return fmt.Errorf("kinds: %w", err)
	}
	for line := range strings.SplitSeq(strings.TrimSpace(string(text)), "\n") {
		w.put(0, line)
	}
	return nil
}

// spaces puts the rows of each space together, in the order in which they come up.
func (w *writer) spaces() [][]Row {
	var all [][]Row
	at := map[string]int{}
	for _, r := range w.sheet.Rows {
		name, ok := r.cells["space"]
		if !ok {
			w.sheet.fault(r.Number, "space", "is blank", "the name of the room, in each of its rows")
			continue
		}
		key := strings.ToLower(name)
		if _, known := at[key]; !known {
			at[key] = len(all)
			all = append(all, nil)
		}
		all[at[key]] = append(all[at[key]], r)
	}
	return all
}

// ofRoom are the columns that are of a room: said once, or the same again.
var ofRoom = []string{"type", "length", "width", "height", "reflectances", "copies"}

// space writes one space of its rows.
func (w *writer) space(rows []Row) {
	room := Row{rows[0].Number, map[string]string{}}
	said := map[string]int{}
	for _, r := range rows {
		for _, column := range ofRoom {
			cell, ok := r.cells[column]
			switch {
			case ok && said[column] > 0 && !alike(cell, room.cells[column]):
				w.sheet.fault(r.Number, column, fmt.Sprintf("is %s, and row %d of the same room has %s", cell, said[column], room.cells[column]), "the same, or nothing: a room has one "+column)
			case ok && said[column] == 0:
				room.cells[column], said[column] = cell, r.Number
			}
		}
	}
	of := func(column string) Row { return Row{max(said[column], rows[0].Number), room.cells} }
	w.put(rows[0].Number, "")
	w.put(rows[0].Number, "[[spaces]]")
	w.from(rows[0].Number, "space", "name = "+quoted(rows[0].cells["space"]))
	w.key(of("copies"), "copies", "copies")
	w.put(rows[0].Number, "[spaces.room]")
	for _, column := range []string{"length", "width", "height"} {
		w.key(of(column), column, column)
	}
	w.key(of("type"), "type", "space")
	w.reflectances(of("reflectances"))
	levels := map[string]bool{}
	for _, r := range rows {
		w.group(r, room)
	}
	for _, r := range rows {
		if level, ok := r.cells["level"]; ok && !levels[strings.ToLower(level)] {
			levels[strings.ToLower(level)] = true
			w.level(r, level)
		}
	}
	if len(levels) == 0 {
		w.taken(rows[0], "level", "blank: "+rows[0].cells["space"]+" is not judged")
	}
}

// alike tells that two cells say the same.
func alike(a, b string) bool { return strings.EqualFold(a, b) || value(a) == value(b) }

// reflectances writes those of ceiling, walls and floor, which stand in one cell.
func (w *writer) reflectances(r Row) {
	const column, want = "reflectances", "three numbers in percent, ceiling/walls/floor, as 50/30/20"
	cell, ok := r.cells[column]
	if !ok {
		w.taken(r, column, "blank: 50/30/20, assumed")
		return
	}
	parts := strings.Split(cell, "/")
	if len(parts) != 3 {
		w.sheet.fault(r.Number, column, "is "+cell, want)
		return
	}
	var percent [3]float64
	for i, p := range parts {
		x, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(p), "%"), 64)
		if err != nil || !(x >= 0 && x <= 99) || x > 0 && x < 1 {
			w.sheet.fault(r.Number, column, "is "+cell, want+", each 0 or from 1 to 99")
			return
		}
		percent[i] = x / 100
	}
	w.from(r.Number, column, fmt.Sprintf("reflectance = { ceiling = %s, walls = %s, floor = %s }", float(percent[0]), float(percent[1]), float(percent[2])))
}

func float(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// group writes the luminaires of a row.
func (w *writer) group(r, room Row) {
	w.put(r.Number, "[[spaces.groups]]")
	w.key(r, "group", "name")
	existing, ok := r.cells["existing"]
	if ok {
		w.from(r.Number, "existing", "existing = "+quoted(w.nameOf(existing)))
	}
	proposed, given := r.cells["proposed"]
	switch {
	case given:
		w.from(r.Number, "proposed", "proposed = "+quoted(w.nameOf(proposed)))
	case ok:
		w.from(r.Number, "proposed", "proposed = "+quoted(w.nameOf(existing))+" # blank in the sheet: it stays")
		w.taken(r, "proposed", "blank: stays as it is, "+existing)
	}
	w.key(r, "count", "count")
	w.key(r, "failed", "failed")
	if !w.key(r, "mounting_height", "mounting_height") {
		if height, ok := room.cells["height"]; ok {
			w.from(r.Number, "height", "mounting_height = "+value(height)+" # blank in the sheet: at the ceiling")
			w.taken(r, "mounting_height", "blank: at the ceiling, "+height)
		}
	}
	w.key(r, "hours", "hours_per_year")
	w.key(r, "control", "control")
	if saving, ok := r.cells["control_saving"]; ok {
		if percent, is := strings.CutSuffix(saving, "%"); is {
			if x, err := strconv.ParseFloat(strings.TrimSpace(percent), 64); err == nil {
				saving = float(x / 100)
			}
		}
		w.from(r.Number, "control_saving", "control_saving = "+value(saving))
	}
	if note, ok := r.cells["note"]; ok {
		w.from(r.Number, "note", "note = "+quoted(note))
	}
}

// level writes a criterion: a published level by its name, or an average on the work plane.
func (w *writer) level(r Row, cell string) {
	w.put(r.Number, "[[spaces.criteria]]")
	if _, err := strconv.ParseFloat(cell, 64); err != nil {
		w.from(r.Number, "level", "level = "+quoted(cell))
		return
	}
	w.from(r.Number, "level", "name = "+quoted("required by the audit, row "+strconv.Itoa(r.Number)))
	w.from(r.Number, "level", `statistic = "average"`)
	w.from(r.Number, "level", "at_least = "+value(cell))
}

// columnsOf are the columns in which what is missing would stand, by the key of the building.
var columnsOf = map[string]string{"hours_per_year": "hours", "at_least": "level", "name": "space"}

// told turns the faults of the building that was made into those of rows and columns of the sheet.
func (w *writer) told(err error) error {
	faults, is := errors.AsType[diag.List](err)
	if !is {
		return err
	}
	for _, f := range faults {
		if f.Pos.File != w.sheet.Name || f.Pos.Line < 1 || f.Pos.Line > len(w.rows) || w.rows[f.Pos.Line-1] == 0 {
			w.sheet.faults = append(w.sheet.faults, f)
			continue
		}
		row, column := w.rows[f.Pos.Line-1], w.columns[f.Pos.Line-1]
		if column == "" {
			key := f.Key[strings.LastIndex(f.Key, ".")+1:]
			column = key
			if named := columnsOf[key]; named != "" {
				column = named
			}
		}
		if w.bad[strings.ToLower(w.cell(row, column))] {
			continue // it is told already that it names no kind
		}
		if column == "kinds" && len(w.bad) > 0 {
			continue
		}
		w.sheet.fault(row, column, f.Wrong, f.Want)
	}
	return nil
}

// cell is that of a row and a column.
func (w *writer) cell(row int, column string) string {
	for _, r := range w.sheet.Rows {
		if r.Number == row {
			return r.cells[column]
		}
	}
	return ""
}
