package main

import (
	"bytes"
	"context"
	"errors"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry"
	"lampswap/photometry/building"
	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/options"
	"lampswap/plots"
)

type optionsOptions struct {
	format        string
	group         string
	all           bool
	lamps         []string
	ballasts      []string
	counts        []int
	led, noLED    bool
	minFC, minLux float64
	notDarker     bool
	buyable       bool
	plot          string
	space         string
	demo          string
}

func newOptions() *cobra.Command {
	opts := optionsOptions{}
	cmd := &cobra.Command{
		Use:   "options [JOB.toml | BUILDING.toml]",
		Short: "Every lamp and ballast for the job's fixtures, least energy first",
		Long: `options works out the light of every lamp, number of lamps and ballast of the
lists in the job's fixtures where they hang: the proposed fixture if it is a
cross-section, else the existing one too. The first row is the least energy that
meets every criterion of the job (with equal energy, more light); a job without
criteria takes no less light than the existing. If nothing meets them all, the row
that comes nearest is shown: it misses the fewest criteria, and those by the least;
the others are listed with --all, in that order. A ratio that the existing lighting
misses and no row meets is said to be so and set aside: lamps do not change it. A
photometric file serves as many lamps of the same length only. Of a job with several
groups one is varied, --group, and all others are held as proposed.

Of a building it finds the fewest kinds of lamps and ballast with which every space
meets every criterion, and of those the least energy: one kind where one serves all.
Groups that the swap leaves as they are stay; with --group only those of that name
vary. --space NAME shows every option of one space.

Exit code 0: some option meets every criterion; 1: none does; 2: the input is
wrong; 3: something else failed. With --format json every row comes, in an
object with these keys:

  job, group, choice [sentences], rule, judged_at, criteria_no_swap_meets [names],
  rows [...], left_out [...], photometric_solves, defaults, warnings, version,
  inputs_digest

and each of its rows has

  existing, proposed, replacement, verdict ("met", "missed", "not allowed",
  "compared"), not_allowed, meets_all_that_a_swap_can, front, fixture, lamp,
  lamps, lamps_across, lamps_end_to_end, part_of_the_places_empty, ballast,
  ballasts, ballast_set ("2-lamp + 1-lamp"), ballast_factor, lamp_lumens_each,
  luminaires, input_watts_each, load_kw, power_density, energy_kwh_per_year,
  power_cost_per_year (energy and demand; upkeep not counted),
  energy_cost_per_year (the same, an older name), luminaire_efficiency,
  light_loss_total, judged_at_hours, lumen_method_average, average, minimum,
  percent_of_existing, darker_than_existing,
  ugr (of the observer who has most; left out where nobody has one),
  criteria [{name, grid, statistic, required, direction, value, met}],
  grids [as check writes them, without points], notes [{sign, text}],
  keys [what a job writes to have it]

and of a building: building, choice [sentences], met, fewest_kinds, kinds [{chosen,
name, lamp, lamps, ballast, ballasts, input_watts_each, luminaires,
spaces_served_by_itself, energy_kwh_per_year_of_those, spaces_not_served_by_itself,
notes}], spaces [{name, copies, lighting ("chosen", "as proposed", "as it is"),
groups [{groups, kind, luminaires, keys}], groups_as_proposed, met, missed
[sentences], kw, energy_kwh_per_year, existing_average, average, minimum,
criteria}], totals {existing, chosen, each_space_by_itself: {kinds, kw,
energy_kwh_per_year, power_cost_per_year}, with_more_kinds [{kinds [names], kw,
energy_kwh_per_year}]}, left_out, version, inputs_digest`,
		Example: `  lampswap options
  lampswap new dock.toml
  lampswap options dock.toml
  lampswap options --led --all dock.toml
  lampswap options --lamp F32T8 --ballast low --min-fc 20 dock.toml
  lampswap options --plot light-for-power.png dock.toml
  lampswap options --demo building`,
		Args: atMostOne("a job file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return showOptions(cmd.Context(), opts, args, streamsOf(cmd))
		},
	}
	spaceFlag(cmd, &opts.space)
	demoFlag(cmd, &opts.demo)
	f := cmd.Flags()
	f.StringVar(&opts.format, "format", "text", "text or json")
	f.BoolVar(&opts.all, "all", false, "show every row, those that miss a criterion too")
	f.StringVar(&opts.group, "group", "", "the group of luminaires whose proposed lamps and ballasts vary, all others held")
	f.StringSliceVar(&opts.lamps, "lamp", nil, "only lamps with this in their name or family, such as F32T8")
	f.StringSliceVar(&opts.ballasts, "ballast", nil, "only ballasts with this in their kind, such as is-low; none is a tube without one")
	f.IntSliceVar(&opts.counts, "count", nil, "only these numbers of lamps in a luminaire")
	f.BoolVar(&opts.led, "led", false, "LED tubes only")
	f.BoolVar(&opts.noLED, "no-led", false, "fluorescent lamps only")
	f.Float64Var(&opts.minFC, "min-fc", 0, "only what maintains at least this average on the work plane, footcandles")
	f.Float64Var(&opts.minLux, "min-lux", 0, "the same in lux")
	f.BoolVar(&opts.notDarker, "not-darker", false, "only what is not darker than the existing lighting")
	f.BoolVar(&opts.buyable, "buyable", false, "only lamps and ballasts that can still be bought in the US, by the rules known here")
	f.StringVar(&opts.plot, "plot", "", "also draw light against power to this file: "+strings.Join(plots.Formats, ", "))
	return cmd
}

func showOptions(ctx context.Context, opts optionsOptions, args []string, std streams) error {
	if err := opts.check(); err != nil {
		return err
	}
	opened, err := jobs.Request{Args: args, Demo: opts.demo, Space: opts.space, In: std.in, Err: std.err}.Open(ctx)
	if err != nil {
		return err
	}
	if opened.Building != nil {
		return showKinds(ctx, opts, opened.Building, std)
	}
	return showOptionsOf(ctx, opts, opened.Job, args, std)
}

// buys refuses --buyable where its rules do not hold.
func (o optionsOptions) buys(j *job.Job) error {
	if o.buyable && !j.InUnitedStates() {
		return exit.Usage(errors.New("--buyable goes by rules of the United States, and the job is in meters and names no state, want state = \"..\" in the job"))
	}
	return nil
}

// showKinds answers for a building: the fewest kinds that serve all spaces.
func showKinds(ctx context.Context, opts optionsOptions, b *building.Building, std streams) error {
	if opts.plot != "" {
		return exit.Usagef("--plot draws the options of one space, and this is a building of %d: want --space NAME beside it, one of %q", len(b.Spaces), b.Names())
	}
	if err := opts.buys(b.Whole); err != nil {
		return err
	}
	var rooms []options.Room
	for _, s := range b.Spaces {
		rooms = append(rooms, options.Room{Name: s.Name, Copies: s.Copies, Job: s.Job})
	}
	found, err := terminal.ShowProgress(std.err, func(p lighting.Progress) (*options.Kinds, error) {
		return options.FindKinds(ctx, rooms, opts.narrow(), p)
	})
	if wrong, ok := errors.AsType[*options.GroupError](err); ok {
		return exit.Usagef("%w", wrong)
	}
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if opts.format == "json" {
		err = answer.WriteKinds(&out, b, found)
	} else {
		ledger.WriteKinds(&out, b, found, opts.all)
	}
	if err != nil {
		return err
	}
	return std.answered(&out, found.Met())
}

// showOptionsOf answers for one room.
func showOptionsOf(ctx context.Context, opts optionsOptions, j *job.Job, args []string, std streams) error {
	if err := opts.buys(j); err != nil {
		return err
	}
	target, err := files.ToFile("--plot", opts.plot, jobs.Inputs(j, args))
	if err != nil {
		return err
	}
	found, err := terminal.ShowProgress(std.err, func(p lighting.Progress) (*options.Options, error) {
		return options.Find(ctx, j, opts.narrow(), p)
	})
	if wrong, ok := errors.AsType[*options.GroupError](err); ok {
		return exit.Usagef("--group: %w", wrong)
	}
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if opts.format == "json" {
		err = answer.WriteOptions(&out, found)
	} else {
		ledger.WriteOptions(&out, found, opts.all)
	}
	if err != nil {
		return err
	}
	if target.Asked() {
		std.warnOf(figures.Front(found))
		if err := writeFront(target, found); err != nil {
			return err
		}
	}
	return std.answered(&out, found.Met())
}

func (o optionsOptions) narrow() options.Narrow {
	return options.Narrow{Group: o.group, Lamps: o.lamps, Ballasts: o.ballasts, Counts: o.counts, LED: o.led, NoLED: o.noLED,
		LeastLight: math.Max(o.minLux, o.minFC*photometry.Footcandle), NotDarker: o.notDarker, Buyable: o.buyable}
}

// check refuses flags that make no sense, and words that nothing in the lists has.
func (o optionsOptions) check() error {
	switch {
	case o.format != "text" && o.format != "json":
		return exit.Usagef("--format is %q, want text or json", o.format)
	case o.led && o.noLED:
		return exit.Usage(errors.New("--led stands beside --no-led, want one of the two"))
	case !(o.minFC >= 0) || !(o.minLux >= 0) || math.IsInf(o.minFC+o.minLux, 0):
		return exit.Usage(errors.New("--min-fc and --min-lux want a number from 0 up"))
	case slices.ContainsFunc(o.counts, func(n int) bool { return n < 1 }):
		return exit.Usage(errors.New("--count wants numbers from 1 up"))
	case o.plot != "" && !slices.Contains(plots.Formats, formatOf(o.plot)):
		return exit.Usagef("--plot is %q, want a file whose name ends in one of %s", o.plot, strings.Join(plots.Formats, ", "))
	}
	for _, w := range o.lamps {
		if !slices.ContainsFunc(catalog.Lamps(), func(l catalog.Lamp) bool { return hasPart(l.Name, w) || hasPart(l.Family, w) }) {
			return exit.Usagef("--lamp is %q, want a part of a name of `lampswap lamps`", w)
		}
	}
	for _, w := range o.ballasts {
		if !hasPart(catalog.KindNone, w) && !slices.ContainsFunc(catalog.Ballasts(), func(b catalog.Ballast) bool { return hasPart(b.Kind, w) }) {
			return exit.Usagef("--ballast is %q, want a part of a kind of ballast, such as is-normal, or none", w)
		}
	}
	return nil
}

func hasPart(name, part string) bool {
	return strings.Contains(strings.ToLower(name), strings.ToLower(part))
}
