package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"

	"lampswap/photometry/job"
	"lampswap/photometry/survey"
)

// measureOptions are the flags that choose where to measure; stations and verify share them, so that their plans are the same.
type measureOptions struct {
	system string
	plan   string
	grids  []string
}

func (o *measureOptions) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&o.system, "system", "proposed", "existing or proposed: whose luminaires burn")
	cmd.Flags().StringVar(&o.plan, "plan", planAuto, "of the work plane: "+strings.Join(planKinds, ", "))
	cmd.Flags().StringArrayVar(&o.grids, "grid", nil, "one of the job's grids to measure besides, or all")
}

func (o *measureOptions) check() error {
	if o.system != "existing" && o.system != "proposed" {
		return usageError{fmt.Errorf("--system is %q, want existing or proposed", o.system)}
	}
	if slices.Contains(planKinds, o.plan) {
		return nil
	}
	return usageError{fmt.Errorf("--plan is %q, want one of %s", o.plan, strings.Join(planKinds, ", "))}
}

type stationsOptions struct {
	measureOptions
	format string
	output string
}

func newStations() *cobra.Command {
	opts := stationsOptions{}
	cmd := &cobra.Command{
		Use:   "stations [JOB.toml]",
		Short: "Where to measure: a plan, and a form to fill in",
		Long: `stations plans a measurement: the survey's stations for a regular layout in an empty room, else a grid,
and those of the job's own grids that --grid names. With --output it writes a folder: stations.csv, the form to fill in on site, and
plan.png and plan.pdf, the marked plan. What was read goes to ` + "`lampswap verify`" + `.`,
		Example: "  lampswap stations\n  lampswap stations dock.toml --output survey\n  lampswap stations dock.toml --system existing --plan grid",
		Args:    atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return stations(opts, args, cmd.OutOrStdout())
		},
	}
	opts.flags(cmd)
	cmd.Flags().StringVar(&opts.format, "format", "text", "text or json")
	cmd.Flags().StringVarP(&opts.output, "output", "o", "", "folder for the form and the marked plan")
	return cmd
}

func stations(opts stationsOptions, args []string, stdout io.Writer) error {
	if err := opts.check(); err != nil {
		return err
	}
	if opts.format != "text" && opts.format != "json" {
		return usageError{fmt.Errorf("--format is %q, want text or json", opts.format)}
	}
	j, err := readJob(args)
	if err != nil {
		return err
	}
	m, err := measuringOf(j, opts.system, opts.plan, opts.grids)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if opts.format == "json" {
		err = writeStationsJSON(&out, j, m)
	} else {
		writeStations(&out, j, m)
	}
	if err != nil {
		return err
	}
	return deliver(&out, stdout, opts.format, opts.output, func() ([]drawing, error) { return stationFiles(j, m) })
}

// deliver writes the files that go with an answer into a folder, if one is named, and then the answer; in a text the names of the files come last.
func deliver(answer *bytes.Buffer, stdout io.Writer, format, folder string, files func() ([]drawing, error)) error {
	if folder != "" {
		made, err := files()
		if err != nil {
			return err
		}
		var names bytes.Buffer
		if err := writeAll(folder, made, &names); err != nil {
			return err
		}
		if format == "text" {
			fmt.Fprintf(answer, "\n%s", names.String())
		}
	}
	_, err := answer.WriteTo(stdout)
	return err
}

// writeStations writes the plan for a terminal.
func writeStations(w io.Writer, j *job.Job, m measuring) {
	v := viewOfJob(j)
	fmt.Fprintf(w, "%s\n%s\n", text.Bold.Sprint(j.Title), fmt.Sprintf("Where to measure, with the %s luminaires burning", m.System))
	for _, p := range m.Plans {
		fmt.Fprintf(w, "\n%s: %s, %d stations\n\n", text.Bold.Sprint(p.Grid), p.Arrangement, len(p.Stations))
		if g := p.Points; len(p.Stations) > mostListed {
			fmt.Fprintf(w, "%d columns %s %s apart by %d rows %s %s apart; --output writes the list\n", g.NX, v.at(g.StepX), v.length, g.NY, v.at(g.StepY), v.length)
			continue
		}
		fmt.Fprintln(w, trimmed(v.stationTable(p).Render()))
	}
	notes := m.Notes
	for _, p := range m.Plans {
		for _, n := range p.Notes {
			notes = append(notes, p.Grid+": "+n)
		}
	}
	list(w, "What to know", notes)
	list(w, "Before and while reading", append(survey.Preparation(), survey.Instructions(unitOf(j))...))
	list(w, "Cautions", onSite)
}

// mostListed is how many stations of a grid a terminal lists.
const mostListed = 40

func (v view) stationTable(p measuringPlan) table.Writer {
	t := plainTable("station", "x, "+v.length, "y, "+v.length, "z, "+v.length, "place")
	t.SetColumnConfigs([]table.ColumnConfig{{Number: 5, WidthMax: 42, WidthMaxEnforcer: text.WrapSoft}})
	for _, s := range p.Stations {
		t.AppendRow(table.Row{s.Name, v.at(s.Position.X), v.at(s.Position.Y), v.at(s.Position.Z), s.Place})
	}
	return t
}

// at writes a length of a plan in the job's unit.
func (v view) at(meters float64) string { return fmt.Sprintf("%.2f", meters/v.meter) }

type jsonStations struct {
	Job    jsonJob           `json:"job"`
	System string            `json:"system"`
	Kind   string            `json:"kind"`
	Plans  []jsonStationPlan `json:"plans"`
	Notes  []string          `json:"notes"`
}

type jsonStationPlan struct {
	Grid        string        `json:"grid"`
	Arrangement string        `json:"arrangement"`
	Stations    []jsonStation `json:"stations"`
	Notes       []string      `json:"notes"`
}

type jsonStation struct {
	Name   string `json:"name"`
	Role   string `json:"role"`
	Place  string `json:"place"`
	X      number `json:"x"`
	Y      number `json:"y"`
	Height number `json:"height"`
}

func writeStationsJSON(w io.Writer, j *job.Job, m measuring) error {
	v := viewOfJob(j)
	out := jsonStations{Job: v.jsonJob(j), System: m.System, Kind: m.Kind, Plans: []jsonStationPlan{}, Notes: append([]string{}, m.Notes...)}
	for _, p := range m.Plans {
		plan := jsonStationPlan{Grid: p.Grid, Arrangement: p.Arrangement.String(), Stations: []jsonStation{}, Notes: append([]string{}, p.Notes...)}
		for _, s := range p.Stations {
			plan.Stations = append(plan.Stations, jsonStation{s.Name, s.Role.String(), s.Place,
				number(s.Position.X / v.meter), number(s.Position.Y / v.meter), number(s.Position.Z / v.meter)})
		}
		out.Plans = append(out.Plans, plan)
	}
	return encodeJSON(w, out)
}

func encodeJSON(w io.Writer, view any) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	return encoder.Encode(view)
}

// stationFiles are the form and the marked plan.
func stationFiles(j *job.Job, m measuring) ([]drawing, error) {
	var form bytes.Buffer
	plans := make([]survey.Plan, len(m.Plans))
	for i, p := range m.Plans {
		plans[i] = p.Plan
	}
	comments := []string{j.Title, fmt.Sprintf("with the %s luminaires burning", m.System)}
	if err := survey.Form(unitOf(j), plans...).Write(&form, append(comments, survey.Instructions(unitOf(j))...)...); err != nil {
		return nil, err
	}
	drawings, err := planFiles(j, m, nil)
	return append([]drawing{{"stations.csv", form.Bytes()}}, drawings...), err
}
