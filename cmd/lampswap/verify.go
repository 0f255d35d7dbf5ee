package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/record"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

type verifyOptions struct {
	measureOptions
	format, output string
	power          string   // file of watts and hours, of a job
	light          []string // SPACE=FILE of readings, of a building
	meterClass     string
	meterUnit      string
	meterError     float64
	meterDigits    float64
	factor         float64 // of calibration
	calibration    float64
	confidence     float64
	daylight       string
	conditions     survey.Conditions
	ambient        float64 // in the job's unit
}

func newVerify() *cobra.Command {
	opts := verifyOptions{conditions: survey.NotNoted()}
	cmd := &cobra.Command{
		Use:   "verify JOB.toml READINGS.csv",
		Short: "What readings on site prove, and what they do not",
		Long: `verify holds readings against the prediction for the day on which they were
taken, station by station and on average, and decides with a guard band whether
each criterion is met, is missed, or is not proven either way. The readings come
in the form that ` + "`lampswap stations JOB --output DIR`" + ` writes; plan and grids
are chosen by the same flags. Readings of the existing lighting (--system
existing) also correct the prediction for the proposed one. With --output the
report is written, to be signed: claimed, measured, found, what would prove it.

Write down on site, and give here: hours burnt, warm-up, cleaning, voltage,
temperature, daylight, lamps out. A meter needs its class (DIN 5032-7: L, A, B,
C), or its error (percent of the reading, and digits besides), or the
uncertainty on its certificate; unknown takes the widest class for it.

With daylight in the readings no criterion is proven. A minimum is proven only
where every point of a grid was read (--plan grid), and not by the stations of
the survey or of aisles; one reading that is too low disproves it.

A slip proves nothing: a reading unlike the others (median and scaled median
absolute deviation of measured over predicted), a set in another unit, with the
same number everywhere, half of it beyond the uncertainties, or far from the
prediction, leaves every criterion not proven until stations are read again (a
second line, with its time) or struck out with a reason (column struck_out).

With --power POWER.csv watts and hours that were read come into the same answer
and report: the saving of a year by them beside the promised one, and what the
watts tell of the light. Of a building POWER.csv stands in the place of the
readings, and --light SPACE=READINGS.csv adds the light of a space. Exit code 1:
the saving is less, or power or hours of a group were not read.

Exit code 0: every criterion of the measured grids is proven met as found, or
the job has none there; 1: one is missed, or not proven, or something about the
readings is not resolved; 2: the input is wrong.`,
		Example: `  lampswap new dock.toml
  lampswap stations dock.toml --output survey
  # on site, write what the meter shows into survey/stations.csv, then
  lampswap verify dock.toml survey/stations.csv --meter-class B \
    --daylight dark --hours-burnt 120 --warm-up-minutes 40
  # the same of the lighting as it is, before the work
  lampswap verify dock.toml survey/stations.csv --system existing \
    --meter-class A --months-since-cleaning 30
  # with watts and hours, in the form that stations --power writes
  lampswap verify dock.toml survey/stations.csv --meter-class B \
    --daylight dark --power survey/power.csv --output proof`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return exit.Usagef("%d arguments, want two: a job file and a file of readings", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return verify(cmd.Context(), opts, args, streamsOf(cmd))
		},
	}
	opts.flags(cmd)
	f := cmd.Flags()
	f.StringVar(&opts.format, "format", "text", "text or json")
	f.StringVarP(&opts.output, "output", "o", "", "folder for the report, as PDF and HTML, and the plan with the deviations marked")
	f.StringVar(&opts.power, "power", "", "of a job: watts and hours that were read besides, in the form of stations --power")
	f.StringArrayVar(&opts.light, "light", nil, "of a building: SPACE=READINGS.csv, the light that was read in a space")
	f.StringVar(&opts.meterClass, "meter-class", "", "class of the meter: "+strings.Join(metrology.MeterClasses(), ", ")+", or unknown")
	f.StringVar(&opts.meterUnit, "meter-unit", "", "fc or lx: what the meter shows, where the form does not say")
	f.Float64Var(&opts.meterError, "meter-error", 0, "limit of the meter's error as a whole, percent of the reading, instead of a class")
	f.Float64Var(&opts.meterDigits, "meter-digits", 0, "what it may be off besides, in steps of the last digit as written")
	f.Float64Var(&opts.factor, "calibration-factor", 1, "by which readings are multiplied, as by the meter's certificate")
	f.Float64Var(&opts.calibration, "calibration", 0, "expanded uncertainty (k = 2) on the meter's certificate, percent")
	f.Float64Var(&opts.confidence, "confidence", 0.95, "of a decision, 0.5 to 0.999")
	c := &opts.conditions
	f.Float64Var(&c.HoursBurnt, "hours-burnt", math.NaN(), "hours that the lamps have burnt since new")
	f.Float64Var(&c.MonthsSinceCleaning, "months-since-cleaning", math.NaN(), "months since luminaires and surfaces were cleaned")
	f.Float64Var(&c.WarmUpMinutes, "warm-up-minutes", math.NaN(), "minutes that the lamps were on before the first reading")
	f.Float64Var(&c.SupplyVolts, "supply-volts", math.NaN(), "line voltage at the luminaires")
	f.Float64Var(&c.RatedVolts, "rated-volts", math.NaN(), "voltage that the ballasts or drivers are rated for")
	f.Float64Var(&opts.ambient, "ambient-temperature", math.NaN(), "at the luminaires, °F or °C as the job")
	f.Float64Var(&c.FailedShare, "failed-share", math.NaN(), "share of the lamps that were out, 0 to 1")
	f.StringVar(&opts.daylight, "daylight", "", "dark, subtracted or present")
	f.Float64Var(&c.MinutesAfterSunset, "minutes-after-sunset", math.NaN(), "minutes from sunset to the first reading")
	f.Float64Var(&c.MonthsSinceCalibration, "months-since-calibration", math.NaN(), "age of the meter's calibration")
	f.BoolVar(&c.AgainstInitial, "initial", false, "the readings are to prove initial light")
	for _, name := range []string{"hours-burnt", "months-since-cleaning", "warm-up-minutes", "supply-volts", "rated-volts", "ambient-temperature", "failed-share",
		"minutes-after-sunset", "months-since-calibration"} {
		f.Lookup(name).DefValue = "0" // not noted: a default of 0 is not printed
	}
	return cmd
}

func (o *verifyOptions) check() error {
	if err := o.measureOptions.check(); err != nil {
		return err
	}
	var faults []error
	fault := func(bad bool, format string, args ...any) {
		if bad {
			faults = append(faults, fmt.Errorf(format, args...))
		}
	}
	daylight, known := stations.Daylights[o.daylight]
	o.conditions.Daylight = daylight
	c := o.conditions
	fault(o.format != "text" && o.format != "json", "--format is %q, want text or json", o.format)
	fault(o.meterUnit != "" && o.meterUnit != "fc" && o.meterUnit != "lx", "--meter-unit is %q, want fc or lx", o.meterUnit)
	fault(!known, "--daylight is %q, want dark, subtracted or present", o.daylight)
	fault(!(o.confidence >= 0.5 && o.confidence <= 0.999), "--confidence is %g, want 0.5 to 0.999", o.confidence)
	fault(!(o.meterError >= 0 && o.meterError <= 100), "--meter-error is %g, want 0 to 100 percent", o.meterError)
	fault(!(o.meterDigits >= 0 && o.meterDigits <= 100), "--meter-digits is %g, want 0 to 100", o.meterDigits)
	fault(!(o.factor >= 0.5 && o.factor <= 2), "--calibration-factor is %g, want 0.5 to 2", o.factor)
	fault(!(o.calibration >= 0 && o.calibration <= 100), "--calibration is %g, want 0 to 100 percent", o.calibration)
	fault(o.meterClass == "" && o.meterError == 0 && o.calibration == 0, "the meter is not described, want --meter-class %s or unknown, or --meter-error, or --calibration",
		strings.Join(metrology.MeterClasses(), ", "))
	fault(o.meterClass != "" && o.meterError > 0, "--meter-error stands beside --meter-class, want one of the two")
	fault(c.MonthsSinceCleaning < 0 || c.MonthsSinceCleaning > 1200, "--months-since-cleaning is %g, want 0 to 1200", c.MonthsSinceCleaning)
	for name, x := range map[string]float64{"hours-burnt": c.HoursBurnt, "warm-up-minutes": c.WarmUpMinutes,
		"minutes-after-sunset": c.MinutesAfterSunset, "months-since-calibration": c.MonthsSinceCalibration} {
		fault(x < 0 || x > 1e6, "--%s is %g, want 0 to 1000000", name, x)
	}
	for name, x := range map[string]float64{"supply-volts": c.SupplyVolts, "rated-volts": c.RatedVolts} {
		fault(x <= 0 || x > 1000, "--%s is %g, want above 0 and up to 1000", name, x)
	}
	fault(c.FailedShare < 0 || c.FailedShare >= 1, "--failed-share is %g, want 0 to below 1", c.FailedShare)
	fault(o.ambient < -100 || o.ambient > 200, "--ambient-temperature is %g, want -100 to 200", o.ambient)
	if len(faults) > 0 {
		return exit.Usage(errors.Join(faults...))
	}
	return nil
}

// unknownMeter is the class of a meter of which nothing is known.
const unknownMeter = "unknown"

// meter is the meter as the flags describe it.
func (o *verifyOptions) meter() (metrology.Meter, error) {
	m := metrology.Meter{Total: o.meterError / 100, Calibration: o.calibration / 100, Digits: o.meterDigits}
	if strings.EqualFold(o.meterClass, unknownMeter) {
		unknown := metrology.UnknownMeter()
		unknown.Digits, unknown.Calibration = m.Digits, m.Calibration
		return unknown, nil
	}
	if o.meterClass != "" {
		class, ok := metrology.ClassMeter(strings.ToUpper(o.meterClass))
		if !ok {
			return m, exit.Usagef("--meter-class is %q, want one of %s, %s", o.meterClass, strings.Join(metrology.MeterClasses(), ", "), unknownMeter)
		}
		class.Calibration, class.Digits = m.Calibration, m.Digits
		return class, nil
	}
	return m, nil
}

func verify(ctx context.Context, opts verifyOptions, args []string, std streams) error {
	wrong := opts.check()
	asked, err := jobs.Request{Args: args[:1], Space: opts.space, In: std.in, Err: std.err}.Open(ctx)
	switch {
	case err == nil && asked.Building != nil: // whose readings of power want no meter of light
		return verifySaving(ctx, opts, wrong, asked.Building, args, std)
	case wrong != nil:
		return wrong
	case err != nil:
		return err
	case len(opts.light) > 0:
		return exit.Usagef("--light is of a building, and this is the job of one room: its readings stand alone")
	}
	j := asked.Job
	inputs := jobs.Inputs(j, args)
	if opts.power != "" {
		inputs = append(inputs, opts.power)
	}
	if _, err := files.ToFolder("--output", opts.output, inputs); err != nil { // before anything else is wrong
		return err
	}
	p, opened, err := proofOf(ctx, j, opts, args[1], std)
	if err != nil {
		return err
	}
	if opts.power != "" {
		text, power, err := powerOf(building.OfJob(j), opts.power)
		if err != nil {
			return err
		}
		p.Power, p.From = power, p.From.With("power", text)
	}
	target, err := files.ToFolder("--output", opts.output, append(inputs, opened...))
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if opts.format == "json" {
		err = answer.WriteVerification(&out, j, p.Found, p.Power, p.From)
	} else {
		ledger.WriteVerification(&out, j, p.Found, p.Power, p.From)
	}
	if err != nil {
		return err
	}
	if err := deliver(&out, std.out, opts.format, target, func() ([]files.File, error) {
		std.warnOf(p.Measurement.Drawn(j))
		return proofFiles(j, p)
	}); err != nil {
		return err
	}
	if !p.Found.Proven() || p.Power != nil && !p.Power.Proven() {
		return exit.ErrNotMet
	}
	return nil
}

// proofOf holds a file of readings of light against a job; opened are the pictures that it names.
func proofOf(ctx context.Context, j *job.Job, opts verifyOptions, path string, std streams) (p record.Proof, opened []string, err error) {
	readings, err := readReadings(path)
	if err != nil {
		return p, nil, err
	}
	if p.Survey, p.Measurement, err = surveyOf(j, &opts, path, readings); err != nil {
		return p, nil, err
	}
	if p.Pictures, opened, err = picturesOf(path, p.Survey.Readings); err != nil {
		return p, nil, err
	}
	p.Found, err = terminal.ShowProgress(std.err, func(show lighting.Progress) (*verification.Verification, error) {
		v, _, err := verification.Run(ctx, j, p.Survey, show)
		return v, err
	})
	if errors.Is(err, verification.ErrNoReadings) {
		return p, nil, exit.Usagef("%s: holds no reading, want what the meter showed at the stations of `lampswap stations`", path)
	}
	p.From = stations.OriginOf(j, p.Measurement, readings, p.Survey)
	for _, picture := range p.Pictures {
		p.From = p.From.With("picture", picture.JPEG)
	}
	return p, opened, err
}

// proofFiles are the report and the marked plans.
func proofFiles(j *job.Job, p record.Proof) ([]files.File, error) {
	report, err := record.ReportFiles(record.Report(j, p), j)
	if err != nil {
		return nil, err
	}
	drawings, err := stations.PlanFiles(j, p.Measurement, p.Found, p.From)
	return append(report, drawings...), err
}

// readReadings reads the file of readings, which may be a little longer than package survey takes: that says what is wrong then.
func readReadings(path string) ([]byte, error) {
	text, err := job.ReadText(path)
	if fault, ok := errors.AsType[*fs.PathError](err); ok {
		return nil, exit.Usagef("%s: %w", path, fault.Err)
	}
	return text, err
}

// surveyOf gathers the readings and what the flags say of how they were taken.
func surveyOf(j *job.Job, opts *verifyOptions, path string, text []byte) (verification.Survey, stations.Measurement, error) {
	m, err := stations.Of(j, opts.system, opts.wanted(j))
	if err != nil {
		return verification.Survey{}, m, err
	}
	meter, err := opts.meter()
	if err != nil {
		return verification.Survey{}, m, err
	}
	readings, err := survey.Read(path, bytes.NewReader(text))
	if err != nil {
		return verification.Survey{}, m, err
	}
	if opts.meterUnit != "" {
		readings = readings.Shown(map[string]survey.Unit{"fc": survey.Footcandles, "lx": survey.Lux}[opts.meterUnit])
	}
	s := verification.Survey{System: opts.system, Readings: readings, Meter: meter, Factor: opts.factor, Conditions: opts.conditions, Confidence: opts.confidence}
	s.Conditions.AmbientCelsius = opts.ambient
	if j.Imperial {
		s.Conditions.AmbientCelsius = photometry.CelsiusFromFahrenheit(opts.ambient)
	}
	for _, p := range m.Plans {
		s.Areas = append(s.Areas, verification.Area{Grid: p.Grid, Plan: p.Plan})
	}
	return s, m, nil
}
