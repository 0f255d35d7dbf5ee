package batch

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/export"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/currency"
	"lampswap/photometry/diag"
	"lampswap/photometry/number"
)

// Summary are what the command line asks of lines that are written already.
type Summary struct {
	Lines  string // their file
	Output string // a file, .csv, .xlsx or of text; "" is stdout
}

// siteWidth is how much of a file's name a terminal shows beside its numbers.
const siteWidth = 20

// A site is one line of a portfolio: a job or a building with what its swap costs and saves.
type site struct {
	file, verdict, currency      string
	kWh                          float64
	cost, saving, payback, worst float64 // NaN where it is not known
	replaced                     *site   // the same by a replacement; nil without one
}

// Summarize tells of lines that a batch wrote: totals, worst margins, and the order by payback.
func Summarize(opts Summary, args []string, stdout io.Writer) error {
	if len(args) > 0 {
		return exit.Usagef("%s stands beside --summary, want the lines alone", args[0])
	}
	target, err := files.ToFile("--output", opts.Output, []string{opts.Lines})
	if err != nil {
		return err
	}
	s, sites, err := readLines(opts.Lines)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	tables := []ledger.Ledger{byPayback("Sites by payback", sites)}
	if replaced := replacedSites(sites); len(replaced) > 0 {
		tables = append(tables, byPayback("Sites by payback of the replacement", replaced))
	}
	switch strings.ToLower(filepath.Ext(opts.Output)) {
	case ".csv":
		err = export.TablesCSV(&out, tables, s.from)
	case ".xlsx":
		err = export.TablesXLSX(&out, "Portfolio", tables, s.from)
	default:
		s.tell(&out)
		for _, order := range tables {
			for i := range order.Sections[0].Rows {
				row := &order.Sections[0].Rows[i]
				row.Label = shortened(row.Label, siteWidth)
			}
			fmt.Fprintf(&out, "\n%s\n\n%s\n", text.Bold.Sprint(order.Name), ledger.Render(order))
		}
		terminal.Quiet(&out, s.from.Line())
	}
	if err != nil {
		return err
	}
	if !target.Asked() {
		_, err := out.WriteTo(stdout)
		return err
	}
	if err := target.Write(out.Bytes()); err != nil {
		return err
	}
	fmt.Fprintln(stdout, target)
	return nil
}

// readLines reads the lines one by one, and keeps of each what a portfolio needs.
func readLines(path string) (*summary, []site, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, exit.Usage(files.Plainly(path, err))
	}
	s, sites := &summary{from: origin.Of("")}, []site{}
	r := bufio.NewReaderSize(f, 1<<20)
	for number := 1; ; number++ {
		line, err := r.ReadBytes('\n')
		if errors.Is(err, io.EOF) && len(bytes.TrimSpace(line)) == 0 {
			break
		}
		if err != nil && !errors.Is(err, io.EOF) {
			return nil, nil, errors.Join(files.Plainly(path, err), f.Close())
		}
		var l summaryLine
		if json.Unmarshal(line, &l) != nil || l.File == "" {
			return nil, nil, errors.Join(exit.Usagef("%s: line %d is none of a batch, want the file that `lampswap batch` wrote", path, number), f.Close())
		}
		l.gather()
		s.add(line)
		sites = append(sites, siteOf(l))
	}
	if s.jobs == 0 {
		return nil, nil, errors.Join(exit.Usagef("%s has no line", path), f.Close())
	}
	return s, sites, f.Close()
}

func siteOf(l summaryLine) site {
	e := l.Energy
	out := site{file: diag.Visible(l.File), currency: diag.Visible(e.Currency), kWh: e.SavedKWh,
		cost: orNaN(e.NetCost), saving: orNaN(e.SavingPerYear), payback: orNaN(e.Payback), worst: worstOf(l).margin}
	switch {
	case len(l.Errors) > 0:
		out.verdict = "no result"
	case l.Exit == exit.NotMet:
		out.verdict = ledger.MissedMark
	case math.IsInf(out.worst, 1):
		out.verdict = "not judged"
	default:
		out.verdict = "met"
	}
	account, ok := l.replacement()
	if !ok {
		return out
	}
	missed := l.replacementMissed()
	l.Criteria = slices.Clone(l.Criteria)
	for i, c := range l.Criteria {
		l.Criteria[i] = c.replaced()
	}
	s := account.Saving
	out.replaced = &site{file: out.file, currency: out.currency, kWh: s.KWh, cost: orNaN(s.NetCost), saving: orNaN(s.PerYear), payback: orNaN(s.Payback),
		worst: worstOf(l).margin, verdict: "met"}
	switch {
	case missed:
		out.replaced.verdict = ledger.MissedMark
	case len(l.Criteria) == 0:
		out.replaced.verdict = "not judged"
	}
	return out
}

// orNaN is a number that may not be known.
func orNaN(x *float64) float64 {
	if x == nil {
		return math.NaN()
	}
	return *x
}

// replacedSites are those of sites that compare a replacement, as it is.
func replacedSites(sites []site) []site {
	var all []site
	for _, s := range sites {
		if s.replaced != nil {
			all = append(all, *s.replaced)
		}
	}
	return all
}

// byPayback is a table of the sites in the order of their payback; those whose payback is not known come last, as the lines have them.
func byPayback(name string, sites []site) ledger.Ledger {
	slices.SortStableFunc(sites, func(a, b site) int {
		if math.IsNaN(a.payback) != math.IsNaN(b.payback) {
			return map[bool]int{true: 1, false: -1}[math.IsNaN(a.payback)]
		}
		return cmp.Compare(a.payback, b.payback)
	})
	l := ledger.Ledger{Name: name, Named: true, Columns: []string{"years", "cost", "saved/year", "kWh saved", "worst", "verdict"}}
	part := ledger.Section{Name: "Cost is installed cost less rebate; worst is the least margin of a criterion"}
	cell := func(x float64, format func(float64) string) ledger.Cell {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return ledger.Word("-")
		}
		return ledger.Cell{Text: format(x), Value: x}
	}
	money := func(s site) func(float64) string {
		return func(x float64) string { return currency.Amount(s.currency, x) }
	}
	for i, s := range sites {
		if i == 0 {
			l.Currency = s.currency
		}
		if l.Currency != s.currency {
			l.Currency = ""
		}
		margin := cell(s.worst, marginWord)
		if math.IsInf(s.worst, -1) {
			margin = ledger.Word(marginWord(s.worst))
		}
		part.Rows = append(part.Rows, ledger.Row{Label: s.file, Cells: []ledger.Cell{cell(s.payback, number.Decimals(1)), cell(s.cost, money(s)),
			cell(s.saving, money(s)), cell(s.kWh, number.Thousands), margin, ledger.Word(s.verdict)}})
	}
	l.Sections = []ledger.Section{part}
	return l
}
