package ledger

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/options"
	"lampswap/photometry/wording"
)

// bestRows is how many rows that meet every criterion, or all that a swap can meet, the table shows without --all, those of the trade-off front further down not counted.
const bestRows = 20

// WriteOptions writes the choice, the table, and what there is to know about both.
func WriteOptions(w io.Writer, o *options.Options, all bool) {
	for _, s := range wording.Options(o) {
		fmt.Fprintln(w, terminal.Flushed(text.WrapSoft(s, terminal.Width)))
	}
	t := newOptionsTable(o)
	heading, shown, hidden, nearest := "", []*options.Option{}, map[string]int{}, o.Nearest()
	for i := range o.List {
		p := &o.List[i]
		part := OptionPart(o, p)
		if !all && !ShowsFirst(p, len(shown)) && p != nearest {
			hidden[part]++
			continue
		}
		if part != heading {
			heading = part
			t.sections.begin(t, strings.ToUpper(part[:1])+part[1:], t.columns)
		}
		t.AppendRow(t.row(p))
		shown = append(shown, p)
	}
	fmt.Fprintf(w, "\n%s\n", terminal.Flushed(t.Render()))
	for _, part := range slices.Sorted(maps.Keys(hidden)) {
		fmt.Fprintf(w, "And %s; --all shows them.\n", moreOf(hidden[part], part))
	}
	optionsLegend(w, o, shown)
	if at := slices.IndexFunc(shown, func(p *options.Option) bool { return p.May() && len(p.Keys()) > 0 }); at >= 0 {
		where := ""
		if len(o.Job.Groups) > 1 {
			where = fmt.Sprintf(" in a kind that %q alone is proposed to be", o.Group)
		}
		fmt.Fprintf(w, "\n%s\n  %s\n", terminal.Flushed(text.WrapSoft("To have the first that the job has not, write"+where+":", terminal.Width)), strings.Join(shown[at].Keys(), "\n  "))
	}
	terminal.Quiet(w, origin.Of(o.Job.InputsDigest).Line())
}

// ShowsFirst tells which rows the table shows without --all: the best, the trade-off front, and the job's own lighting. Where nothing meets
// every criterion, the nearest to it comes besides.
func ShowsFirst(p *options.Option, shown int) bool {
	return p.Own() || p.May() && (p.Meets || p.MeetsRest) && (p.Front || shown < bestRows)
}

// An optionsTable keeps within terminal.Width: long names are broken.
type optionsTable struct {
	table.Writer
	columns  int
	priced   bool
	glare    bool // the job has a limit of it
	job      *job.Job
	sections *sectionNames
}

const (
	lampsWidth   = 18
	ballastWidth = 14
	notesWidth   = 4
)

func newOptionsTable(o *options.Options) optionsTable {
	v := units.Of(o.Job)
	t := optionsTable{Writer: table.NewWriter(), priced: o.List[0].EnergyCost != nil, glare: AsksOfGlare(o.Job), job: o.Job, sections: new(sectionNames)}
	style := table.StyleLight
	style.Options = table.OptionsNoBordersAndSeparators
	style.Options.SeparateHeader = true
	style.Format.Header = text.FormatDefault
	style.Box.PaddingLeft, style.Box.PaddingRight = "", " "
	t.SetStyle(style)
	header := table.Row{"", "lamps", "ballast", "W", "W/\n" + v.Length + "2", "avg\n" + v.Illuminance, "min\n" + v.Illuminance}
	last := "%\nof E"
	if t.glare {
		last = "UGR" // there is room for one of them
	}
	header = append(header, last, "")
	words := len(header) // the column that tells what is darker than before
	if t.priced {
		header = append(header, "power,\ncost a\nyear")
	}
	header = append(header, "note")
	t.columns = len(header)
	t.AppendHeader(header)
	configs := []table.ColumnConfig{{Number: 2, WidthMax: lampsWidth, WidthMaxEnforcer: t.sections.wrapped}}
	for n := 4; n < t.columns; n++ {
		if n != words {
			configs = append(configs, table.ColumnConfig{Number: n, Align: text.AlignRight, AlignHeader: text.AlignRight})
		}
	}
	t.SetColumnConfigs(configs)
	return t
}

func (t optionsTable) row(p *options.Option) table.Row {
	kind, watts := BallastCell(p)
	if len(kind) > ballastWidth {
		kind = strings.Replace(kind, "-", "-\n", 1)
	}
	if p.From.Ballast != nil && len(p.From.Ballast.Parts) > 1 {
		for _, part := range p.From.Ballast.Parts {
			kind += fmt.Sprintf("\n %d x %d-lamp", part.Count, part.Lamps)
		}
	}
	darker := ""
	if p.Darker {
		darker = "darker"
	}
	row := table.Row{OptionMarks(p), lampsCell(p), kind, watts, OptionLight(t.job, p, levels.PowerDensity),
		OptionLight(t.job, p, levels.Average), OptionLight(t.job, p, levels.Minimum)}
	if t.glare {
		row = append(row, OptionLight(t.job, p, levels.Glare), darker)
	} else {
		row = append(row, number.Decimals(0)(100*p.OfExisting), darker)
	}
	if t.priced {
		row = append(row, units.Of(t.job).Money(*p.EnergyCost))
	}
	return append(row, text.WrapHard(OptionSigns(p), notesWidth))
}

// BallastCell is the kind of ballast, or its factor where the job gives that alone, and the watts of one luminaire.
func BallastCell(p *options.Option) (kind, watts string) {
	kind, watts = fmt.Sprintf("factor %.2f", p.From.BallastFactor), fmt.Sprintf("%.0f", p.From.InputWatts)
	if !p.Any() {
		return "", ""
	}
	if p.From.Ballast != nil {
		kind = p.From.Ballast.Kind
	}
	return kind, watts
}

// AsksOfGlare tells that a job has a limit of it.
func AsksOfGlare(j *job.Job) bool {
	return slices.ContainsFunc(j.Criteria, func(c levels.Criterion) bool { return c.Statistic == levels.Glare })
}

// OptionLight writes what an option gives on the work plane, or its power density, with the digits in which what decides about the criteria is seen;
// or the glare of the observer who has most.
func OptionLight(j *job.Job, p *options.Option, which levels.Statistic) string {
	plane, value := p.Light.Grids[0].Name, p.Light.Statistic(levels.Criterion{Statistic: which, Grid: p.Light.Grids[0].Name})
	more := 0
	for _, c := range j.Criteria {
		if c.Statistic == which && (c.Grid == plane || !which.OfGrid()) {
			more = max(more, c.Finer(j.Imperial, value))
		}
	}
	return number.Finer(units.Of(j).Statistic(which, value), more)
}

// lampsCell is number and lamp, and how much of the length they fill; on two lines where one is too short.
func lampsCell(p *options.Option) string {
	filled := ""
	if p.Empty() {
		filled = " " + wording.Filled(p)
	}
	if cell := wording.Lamps(p) + filled; len(cell) <= lampsWidth || p.From.Lamp == nil {
		return cell
	}
	return fmt.Sprintf("%d x%s\n%s", p.From.Lamps, filled, p.From.Lamp.Name)
}

// OptionMarks are E for the existing lighting, P for the proposed, R for the replacement, * for the trade-off front.
func OptionMarks(p *options.Option) string {
	mark := ""
	if p.Existing {
		mark += "E"
	}
	if p.Proposed {
		mark += "P"
	}
	if p.Replacement {
		mark += "R"
	}
	if p.Front {
		mark += "*"
	}
	return mark
}

// missed are the numbers of the criteria that an option misses, from 1.
func missed(p *options.Option) []string {
	var numbers []string
	for i, v := range p.Verdicts {
		if !v.Met {
			numbers = append(numbers, fmt.Sprint(i+1))
		}
	}
	return numbers
}

// OptionSigns are the numbers of the criteria that an option misses and the letters of its notes.
func OptionSigns(p *options.Option) string {
	return strings.Join(missed(p), map[bool]string{true: ",", false: ""}[len(p.Verdicts) > 9]) + NoteSigns(p)
}

// NoteSigns are the letters of an option's notes, each once.
func NoteSigns(p *options.Option) string {
	all := ""
	for _, n := range p.Notes {
		if sign := string(n.Sign); !strings.Contains(all, sign) {
			all += sign
		}
	}
	return all
}

// PowerCost says what the yearly cost of power holds.
const PowerCost = "energy and demand, as far as priced; upkeep not counted"

// optionsLegend explains the table.
func optionsLegend(w io.Writer, o *options.Options, shown []*options.Option) {
	own := "E existing, P proposed"
	if o.Job.Replacement != nil {
		own += ", R replacement"
	}
	own += "; * no row gives as much light for fewer watts."
	light := "W: input watts of one luminaire; light is maintained, on the work plane: " + wording.Basis(o.Job.Upkeep.JudgedAt) + "."
	fmt.Fprintf(w, "\n%s\n%s\n", terminal.Flushed(text.WrapSoft(own, terminal.Width)), terminal.Flushed(text.WrapSoft(light, terminal.Width)))
	if o.List[0].EnergyCost != nil {
		fmt.Fprintf(w, "Power, cost a year: %s.\n", PowerCost)
	}
	terminal.List(w, "Criteria", OptionCriteria(o, shown))
	notes := NoteLines(o.Job, shown)
	if slices.ContainsFunc(shown, func(p *options.Option) bool { return len(missed(p)) > 0 }) {
		notes = append([]string{"a digit: the criterion of that number is missed"}, notes...)
	}
	terminal.List(w, "Notes", notes)
	terminal.List(w, "Left out", wording.LeftOut(o))
	if reasons := NotAllowed(shown); len(reasons) > 0 {
		terminal.List(w, "Not allowed", reasons)
	}
}

// OptionCriteria are the criteria of the job by the numbers that the rows have of them.
func OptionCriteria(o *options.Options, shown []*options.Option) []string {
	var criteria []string
	for i, c := range o.Job.Criteria {
		more := 0
		for _, p := range shown {
			more = max(more, c.Finer(o.Job.Imperial, p.Verdicts[i].Value))
		}
		text := fmt.Sprintf("%d: %s, %s", i+1, c.Name, requires(o.Job, c, more))
		if o.Unmeetable[i] {
			text += "; no row meets it, nor does the existing lighting"
		}
		criteria = append(criteria, text)
	}
	return criteria
}

// NoteLines lists the different notes of the rows shown, by their signs.
func NoteLines(j *job.Job, shown []*options.Option) []string {
	var lines []string
	for _, p := range shown {
		for _, n := range p.Notes {
			if line := string(n.Sign) + ": " + wording.Note(j, n); !slices.Contains(lines, line) {
				lines = append(lines, line)
			}
		}
	}
	slices.SortStableFunc(lines, func(a, b string) int { return cmp.Compare(a[0], b[0]) })
	return lines
}

// NotAllowed are the reasons why some of the rows shown may not be chosen.
func NotAllowed(shown []*options.Option) []string {
	var reasons []string
	for _, p := range shown {
		if p.NotAllowed != nil {
			reasons = append(reasons, fmt.Sprintf("%s: %s", wording.Option(p), wording.Outside(p.NotAllowed)))
		}
	}
	return reasons
}
