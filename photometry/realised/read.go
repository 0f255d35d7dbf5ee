package realised

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/building"
	"lampswap/photometry/diag"
	"lampswap/photometry/job"
)

// A Reading is what was read of a group of luminaires, in one line of a form; NaN is not read.
type Reading struct {
	Space, Group, System string // System is "existing" or "proposed"
	Count                int    // luminaires as found, in one copy of the space; -1 is not counted
	Watts, Hours         float64
}

// Columns are those of a form, in its order; note is for the reader alone.
var Columns = []string{"space", "group", "system", "count", "watts", "hours", "note"}

// Bounds of what can be read.
const (
	mostReadings = 100_000
	mostWatts    = 1e5
	mostHours    = 8784
	mostCount    = 100_000
)

// Form is an empty form for the groups of a building, as CSV: a line for each system; more lines of one group are more luminaires that were read.
func Form(b *building.Building) []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	lines := [][]string{Columns}
	for _, s := range b.Spaces {
		for _, group := range s.Job.Groups {
			for _, side := range sides(s.Job) {
				if side.system.Find(group) != nil {
					lines = append(lines, []string{s.Name, group, side.name, "", "", "", ""})
				}
			}
		}
	}
	_ = w.WriteAll(lines) // a buffer takes all
	return out.Bytes()
}

// A side is one of the two systems of a job.
type side struct {
	name   string
	system *job.System
}

func sides(j *job.Job) []side {
	return []side{{"existing", &j.Existing}, {"proposed", &j.Proposed}}
}

// Read reads a form that was filled in. The error is a diag.List with every fault, by line and column of the file.
func Read(name string, content []byte, b *building.Building) ([]Reading, error) {
	r := reader{name: name, b: b}
	if diag.UTF16(content) {
		return nil, diag.List{{Pos: diag.Pos{File: name, Line: 1, Column: 1}, Wrong: diag.WrongUTF16, Want: diag.WantUTF8}}
	}
	file := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(content, []byte("\xef\xbb\xbf"))))
	file.FieldsPerRecord = -1
	var head []string
	for {
		fields, err := file.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, diag.List{{Pos: diag.Pos{File: name}, Wrong: err.Error(), Want: "CSV, as lampswap stations writes it of a building"}}
		}
		if strings.TrimSpace(strings.Join(fields, "")) == "" {
			continue
		}
		line, _ := file.FieldPos(0)
		if head == nil {
			if head = r.head(line, fields); len(r.faults) > 0 {
				break
			}
			continue
		}
		if len(r.readings) == mostReadings {
			r.fault(line, 1, "", fmt.Sprintf("is one of more than %d lines", mostReadings), "fewer")
			break
		}
		r.line(file, line, fields, head)
	}
	if head == nil {
		r.fault(1, 1, "", "the file is empty", "a head "+strings.Join(Columns, ",")+" and a line a reading")
	}
	return r.readings, r.faults.Err()
}

type reader struct {
	name     string
	b        *building.Building
	readings []Reading
	faults   diag.List
}

func (r *reader) fault(line, column int, key, wrong, want string) {
	r.faults.Add(diag.Pos{File: r.name, Line: line, Column: column}, key, wrong, want)
}

func (r *reader) head(line int, fields []string) []string {
	var head []string
	for i, f := range fields {
		name := strings.ToLower(strings.TrimSpace(f))
		switch {
		case !slices.Contains(Columns, name):
			r.fault(line, i+1, "", strconv.Quote(diag.Visible(f))+" is no column", "one of "+strings.Join(Columns, ", "))
		case slices.Contains(head, name):
			r.fault(line, i+1, name, "is a column for the second time", "each once")
		}
		head = append(head, name)
	}
	for _, name := range []string{"space", "system", "watts", "hours"} {
		if !slices.Contains(head, name) {
			r.fault(line, 1, name, "is no column", "a column of that name")
		}
	}
	return head
}

// line reads one line; one in which nothing was read is left out.
func (r *reader) line(file *csv.Reader, line int, fields, head []string) {
	known := len(r.faults)
	cell := map[string]string{}
	at := map[string]int{}
	for i, f := range fields {
		if i < len(head) {
			cell[head[i]] = strings.TrimSpace(diag.Visible(f))
			_, at[head[i]] = file.FieldPos(i)
		}
	}
	wrong := func(key, what, want string) { r.fault(line, max(1, at[key]), key, what, want) }
	number := func(key string, most float64) float64 {
		text := cell[key]
		if text == "" {
			return math.NaN()
		}
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || !(x >= 0 && x <= most) {
			wrong(key, "is "+text, fmt.Sprintf("a number from 0 to %g", most))
			return math.NaN()
		}
		return x
	}
	reading := Reading{Count: -1, Watts: number("watts", mostWatts), Hours: number("hours", mostHours)}
	if count := number("count", mostCount); !math.IsNaN(count) {
		if reading.Count = int(count); float64(reading.Count) != count {
			wrong("count", "is "+cell["count"], "a whole number")
		}
	}
	if math.IsNaN(reading.Watts) && math.IsNaN(reading.Hours) && reading.Count < 0 && len(r.faults) == known {
		return // of a form, not filled in
	}
	s := r.b.Find(cell["space"])
	if s == nil {
		want := fmt.Sprintf("one of %q", r.b.Names())
		if near := diag.Nearest(cell["space"], r.b.Names()); near != "" {
			want = near + ", perhaps"
		}
		wrong("space", strconv.Quote(cell["space"])+" is no space of the building", want)
	}
	if reading.System = strings.ToLower(cell["system"]); reading.System != "existing" && reading.System != "proposed" {
		wrong("system", strconv.Quote(cell["system"])+" is not known", "existing or proposed: which luminaires were read")
	}
	if s == nil || len(r.faults) > known {
		return
	}
	reading.Space = s.Name
	group := slices.IndexFunc(s.Job.Groups, func(g string) bool { return strings.EqualFold(g, cell["group"]) })
	switch {
	case group < 0 && cell["group"] == "" && len(s.Job.Groups) == 1:
		group = 0
	case group < 0:
		wrong("group", strconv.Quote(cell["group"])+" is no group of "+s.Name, fmt.Sprintf("one of %q", s.Job.Groups))
		return
	}
	reading.Group = s.Job.Groups[group]
	for _, side := range sides(s.Job) {
		if side.name == reading.System && side.system.Find(reading.Group) == nil {
			wrong("system", reading.Group+" has no luminaires in the "+side.name+" system", "the other system")
			return
		}
	}
	for _, other := range of(r.readings, reading.Space, reading.Group, reading.System) {
		if reading.Count >= 0 && other.Count >= 0 && other.Count != reading.Count {
			wrong("count", fmt.Sprintf("is %d, and another line of the same group and system has %d", reading.Count, other.Count), "one number: how many give light in one copy of the space")
			return
		}
	}
	r.readings = append(r.readings, reading)
}
