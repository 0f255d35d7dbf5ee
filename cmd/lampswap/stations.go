package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/record"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/realised"
)

// measureOptions are the flags that choose where to measure; stations and verify share them, so that their plans are the same.
type measureOptions struct {
	space  string
	demo   string
	system string
	plan   string
	grids  []string
	number int
	within float64 // percent
	copies int
	apart  float64 // in the job's unit
}

// wanted is the measurement that the flags ask for.
func (o *measureOptions) wanted(j *job.Job) stations.Wanted {
	return stations.Wanted{Kind: o.plan, Grids: o.grids, Stations: o.number, Spacing: o.apart * units.Of(j).Meter, Copies: o.copies, Within: o.within / 100}
}

func (o *measureOptions) flags(cmd *cobra.Command) {
	spaceFlag(cmd, &o.space)
	demoFlag(cmd, &o.demo)
	cmd.Flags().StringVar(&o.system, "system", "proposed", "existing or proposed: whose luminaires burn")
	cmd.Flags().StringVar(&o.plan, "plan", stations.Auto, "of the work plane: "+strings.Join(stations.Kinds, ", "))
	cmd.Flags().StringArrayVar(&o.grids, "grid", nil, "one of the job's grids to measure besides, or all")
	cmd.Flags().IntVar(&o.number, "stations", 0, "how many stations the work plane may have")
	cmd.Flags().Float64Var(&o.within, "uncertainty", 0, "instead: as many as leave the average uncertain by so many percent")
	cmd.Flags().Float64Var(&o.apart, "spacing", 0, "of stations at most, ft or m as the job")
}

// mostStations is how many stations can be asked for.
const mostStations = 2000

// mostCopies is how many like rooms there can be.
const mostCopies = 10_000

func (o *measureOptions) check() error {
	if o.system != "existing" && o.system != "proposed" {
		return exit.Usagef("--system is %q, want existing or proposed", o.system)
	}
	if o.number < 0 || o.number > mostStations {
		return exit.Usagef("--stations is %d, want 1 to %d", o.number, mostStations)
	}
	if !(o.within >= 0 && o.within <= 50) || o.within > 0 && o.within < 0.5 {
		return exit.Usagef("--uncertainty is %g, want 0.5 to 50 percent", o.within)
	}
	if o.within > 0 && o.number > 0 {
		return exit.Usagef("--uncertainty stands beside --stations, want one of the two")
	}
	if o.copies < 0 || o.copies > mostCopies {
		return exit.Usagef("--copies is %d, want 1 to %d", o.copies, mostCopies)
	}
	if !(o.apart >= 0 && o.apart <= 1000) || o.apart > 0 && o.apart < 0.5 {
		return exit.Usagef("--spacing is %g, want 0.5 to 1000", o.apart)
	}
	if slices.Contains(stations.Kinds, o.plan) {
		return nil
	}
	return exit.Usagef("--plan is %q, want one of %s", o.plan, strings.Join(stations.Kinds, ", "))
}

type stationsOptions struct {
	measureOptions
	format string
	output string
	power  bool
}

func newStations() *cobra.Command {
	opts := stationsOptions{}
	cmd := &cobra.Command{
		Use:   "stations [JOB.toml]",
		Short: "Where to measure: a plan, and a form to fill in",
		Long: `stations plans a measurement: the survey's stations for a regular layout in an
empty room, with bays drawn at random in a large one, the center lines of the
aisles among racks, else a grid; and those of the job's own grids that --grid
names, a rack face in three heights. Stations are listed in order of walking and
keep a foot from racks.
With --output it writes a folder: form.pdf, pages to print and fill in on site,
stations.csv, the same as a file to copy the readings into, and plan.png and
plan.pdf, the marked plan. Places are rounded for a tape; the column key of the
file is the exact place. A form that has readings or notes in it
is never written over. What was read goes to ` + "`lampswap verify`" + `.

Of a building it tells how many luminaires of each kind are to have their power
and hours logged, and how many stations of light each space has, in the order of
the file; --output writes power.csv, a form for watts and hours, and the form and
the plan of each space, numbered in that order. --space NAME shows the stations of
one. Of a job --power adds the form for watts and hours.`,
		Example: `  lampswap stations
  lampswap new dock.toml
  lampswap stations dock.toml --output survey
  lampswap stations dock.toml --system existing --plan grid`,
		Args: atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return planStations(cmd.Context(), opts, args, streamsOf(cmd))
		},
	}
	opts.flags(cmd)
	cmd.Flags().IntVar(&opts.copies, "copies", 0, "like rooms: tells how many of them to measure, and the risk of each side")
	cmd.Flags().StringVar(&opts.format, "format", "text", "text or json")
	cmd.Flags().BoolVar(&opts.power, "power", false, "with --output: also power.csv, a form for watts and hours, which verify --power reads")
	cmd.Flags().StringVarP(&opts.output, "output", "o", "", "folder for the form and the marked plan")
	return cmd
}

func planStations(ctx context.Context, opts stationsOptions, args []string, std streams) error {
	if err := opts.check(); err != nil {
		return err
	}
	if opts.format != "text" && opts.format != "json" {
		return exit.Usagef("--format is %q, want text or json", opts.format)
	}
	asked, err := jobs.Request{Args: args, Demo: opts.demo, Space: opts.space, In: std.in, Err: std.err}.Open(ctx)
	if err != nil {
		return err
	}
	if asked.Building != nil {
		return planBuilding(opts, asked.Building, args, std)
	}
	j := asked.Job
	target, err := files.ToFolder("--output", opts.output, jobs.Inputs(j, args), stations.FormName)
	if err != nil {
		return err
	}
	if err := stations.Unfilled(target.Path(), stations.FormName); err != nil {
		return err
	}
	if err := opts.powerUnwritten(target); err != nil {
		return err
	}
	m, err := stations.Of(j, opts.system, opts.wanted(j))
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if opts.format == "json" {
		err = stations.WriteJSON(&out, j, m)
	} else {
		stations.Write(&out, j, m)
	}
	if err != nil {
		return err
	}
	return deliver(&out, std.out, opts.format, target, func() ([]files.File, error) {
		made, err := stationsFiles(j, m, std)
		if opts.power {
			made = append(made, files.File{Name: powerForm, Content: realised.Form(building.OfJob(j))})
		}
		return made, err
	})
}

// stationsFiles are the form, on paper and as a file, and the marked plan.
func stationsFiles(j *job.Job, m stations.Measurement, std streams) ([]files.File, error) {
	std.warnOf(m.Drawn(j))
	made, err := stations.Files(j, m)
	if err != nil {
		return nil, err
	}
	form, err := record.FormFile(j, m)
	return append(made, form), err
}

// deliver writes the files that go with an answer into a folder, if one is named, and then the answer; in a text the names of the files come last.
func deliver(answer *bytes.Buffer, stdout io.Writer, format string, folder files.Target, besides func() ([]files.File, error)) error {
	if folder.Asked() {
		made, err := besides()
		if err != nil {
			return err
		}
		var names bytes.Buffer
		if err := folder.WriteAll(made, &names); err != nil {
			return err
		}
		if format == "text" {
			fmt.Fprintf(answer, "\n%s", names.String())
		}
	}
	_, err := answer.WriteTo(stdout)
	return err
}
