package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/catalog"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/lm63"
	"lampswap/photometry/losses"
)

// A feed is what the job says of how the lamps of a luminaire are fed.
type feed struct {
	kind          string // of ballast; "" if not given
	factor, watts float64
	hasFactor     bool
	hasWatts      bool
}

// ballast settles the ballast factor and the input watts: from the job, else the ballast list, else the file.
func (r *reader) ballast(t *tomlfile.Table, s *System, file *lm63.File) {
	absolute := file != nil && file.Absolute()
	var f feed
	f.kind, _ = t.Text("ballast")
	f.factor, f.hasFactor = t.Number("ballast_factor", tomlfile.Between(0.1, 2))
	f.watts, f.hasWatts = t.Number("input_watts", tomlfile.Between(leastWatts, mostWatts))
	led := s.Lamp != nil && s.Lamp.LED && !absolute
	switch {
	case absolute: // ignores it, watts and all
	case led && s.Lamps > 0:
		r.tubeFeed(t, s, f)
	case led:
	case f.kind == "" || s.Lamp == nil || s.Lamps == 0:
	case s.Lamp.Family == "":
		t.Fault("ballast", strconv.Quote(f.kind)+" is named without a lamp of the list, or one of its watts, length and diameter", "one of these too, or ballast_factor and input_watts")
	default:
		r.listedBallast(t, s, *s.Lamp, f.kind)
	}
	if f.hasFactor {
		s.BallastFactor, s.BallastOrigin, s.BallastFrom = f.factor, losses.FromJobFile, losses.BallastGiven
	}
	if f.hasWatts {
		s.InputWatts = f.watts
	}
	if file != nil && (absolute || !t.Has("ballast")) {
		r.fedAsInFile(t, s, file)
	}
	if t.Has("fixture") && !t.Has("ballast") && (!led || s.Lamp.LEDType == catalog.OnBallast) {
		for _, key := range []string{"ballast_factor", "input_watts"} {
			r.need(t, key, "from the ballast's label, or a ballast of `lampswap lamps NAME`")
		}
	}
}

// fedAsInFile takes from the photometric file what nothing else tells.
func (r *reader) fedAsInFile(t *tomlfile.Table, s *System, file *lm63.File) {
	if s.BallastFactor == 0 && !t.Has("ballast_factor") {
		s.BallastFactor, s.BallastOrigin, s.BallastFrom = file.BallastFactor, losses.FromDefault, losses.BallastOfFile
		if !file.Absolute() {
			r.default_(t, "ballast_factor", strconv.FormatFloat(s.BallastFactor, 'g', -1, 64), "as in the photometric file")
		}
	}
	if s.InputWatts == 0 && !t.Has("input_watts") {
		s.InputWatts = file.InputWatts
		r.default_(t, "input_watts", strconv.FormatFloat(s.InputWatts, 'g', -1, 64), "as in the photometric file")
		if s.InputWatts == 0 {
			t.Missing("input_watts", "the watts of one luminaire; the photometric file does not tell them")
		}
	}
}

// listedBallast takes a ballast of the list for the lamp.
func (r *reader) listedBallast(t *tomlfile.Table, s *System, lamp catalog.Lamp, kind string) {
	ballast, found := catalog.FindBallast(lamp, s.Lamps, kind)
	if !found {
		want := "ballast_factor and input_watts from the ballast's label"
		var kinds []string
		for _, b := range catalog.BallastsFor(lamp, s.Lamps) {
			kinds = append(kinds, b.Kind)
		}
		if len(kinds) > 0 {
			want = "one of " + strings.Join(kinds, ", ") + ", or " + want
		}
		t.Fault("ballast", fmt.Sprintf("%q is not in the ballast list for %d x %s", kind, s.Lamps, lamp.Name), want)
		return
	}
	s.Ballast = &ballast
	s.BallastFactor, s.BallastOrigin, s.BallastFrom = ballast.BallastFactor, losses.FromTable, losses.Listed(ballast.Origin())
	s.InputWatts = ballast.InputWatts
	if set := ballast.Set(); set != "" && strings.EqualFold(kind, ballast.Kind) {
		r.default_(t, "ballast", strconv.Quote(ballast.Name), fmt.Sprintf("%s, the ballasts of the list that feed %d lamps at the least watts", set, s.Lamps))
	}
}

// tubeFeed settles how LED tubes are fed, by their type.
func (r *reader) tubeFeed(t *tomlfile.Table, s *System, f feed) {
	if s.Lamp.RatedWatts == 0 && f.hasWatts {
		s.Lamp.RatedWatts = f.watts / float64(s.Lamps)
	}
	switch s.Lamp.LEDType {
	case catalog.OnLine:
		r.onLine(t, s, f)
	case catalog.OnBallast:
		r.onBallast(t, s, f)
	case catalog.OnDriver:
		if f.kind != "" && f.kind != catalog.KindNone {
			t.Fault("ballast", strconv.Quote(f.kind)+" is named for a tube of type C, which has an external driver", `input_watts of the driver with its tubes; led_type = "A" on a ballast`)
		}
		if !f.hasFactor {
			s.BallastFactor, s.BallastOrigin, s.BallastFrom = 1, losses.FromDefault, losses.DriverOutside
			if !t.Has("ballast_factor") {
				r.default_(t, "ballast_factor", "1", "the driver gives the tubes their rated light")
			}
		}
		r.need(t, "input_watts", "the watts of the driver with its tubes")
	}
}

// onLine feeds tubes of type B: no ballast, lamps x rated watts.
func (r *reader) onLine(t *tomlfile.Table, s *System, f feed) {
	ballast, known := catalog.FindBallast(*s.Lamp, s.Lamps, catalog.KindNone)
	switch {
	case f.kind != "" && !strings.EqualFold(f.kind, catalog.KindNone) && !strings.EqualFold(f.kind, ballast.Name):
		t.Fault("ballast", strconv.Quote(f.kind)+" is named for a tube of type B, which runs on the line", `ballast = "none", or no ballast`)
	case !t.Has("ballast"):
		r.default_(t, "ballast", strconv.Quote(catalog.KindNone), "an LED tube of type B runs on the line, its driver is inside")
	}
	switch {
	case !f.hasFactor || f.factor == 1:
	case t.Has("lamp"): // what the job gives goes before the list
		r.warn(t, "ballast_factor %g counts, though %s is a tube of type B, which has no ballast", f.factor, s.Lamp.Name)
	default:
		t.Fault("ballast_factor", fmt.Sprintf("is %g for a tube of type B, which has no ballast", f.factor), "1, or no ballast_factor")
	}
	s.BallastFactor, s.BallastOrigin, s.BallastFrom = 1, losses.FromTable, losses.DriverInside
	if !known {
		if !t.Has("lamp_watts") && !t.Has("input_watts") {
			t.Missing("lamp_watts", "the watts of one tube, or input_watts of the luminaire")
		}
		return
	}
	s.Ballast, s.InputWatts = &ballast, ballast.InputWatts
	const rounding = 0.01 // of watts as printed
	if t.Has("lamp_watts") && f.hasWatts && math.Abs(f.watts-ballast.InputWatts) > rounding*ballast.InputWatts {
		t.Fault("input_watts", fmt.Sprintf("%g contradicts lamp_watts: %d tubes of %g W on the line draw %g W", f.watts, s.Lamps, s.Lamp.RatedWatts, ballast.InputWatts),
			"one of the two")
	}
}

// suchAs names a ballast for T8 lamps, for as many as there are if the list has one.
func suchAs(lamps int) string {
	return fmt.Sprintf("f32t8-%d-is-normal", max(1, min(lamps, 4)))
}

// onBallast feeds tubes of type A by the ballast that stays: light by its factor, watts of the pair.
func (r *reader) onBallast(t *tomlfile.Table, s *System, f feed) {
	hosts := catalog.Hosts(f.kind)
	if e := r.before.Lamp; len(hosts) > 1 && e != nil && slices.Contains(hosts, e.Family) {
		hosts = []string{e.Family}
	}
	switch {
	case f.kind == "":
	case strings.EqualFold(f.kind, catalog.KindNone):
		t.Fault("ballast", `"none" is named for a tube of type A, which runs on the ballast that stays`, `the ballast, or led_type = "B"`)
	case len(hosts) == 0:
		t.Fault("ballast", strconv.Quote(f.kind)+" is not in the ballast list", "a name of it such as "+suchAs(s.Lamps)+", or ballast_factor and input_watts of the pair from the tube maker's list")
	case len(hosts) > 1:
		t.Fault("ballast", strconv.Quote(f.kind)+" may be a ballast for "+strings.Join(hosts, ", "), "the name of one in the ballast list, such as "+suchAs(s.Lamps))
	case s.Lamp.RatedWatts == 0:
		t.Missing("lamp_watts", "the watts of one tube, or input_watts of the tubes on their ballast")
	default:
		r.listedBallast(t, s, s.Lamp.On(hosts[0]), f.kind)
		if s.Ballast != nil && !f.hasWatts {
			r.default_(t, "input_watts", strconv.FormatFloat(s.InputWatts, 'g', 6, 64),
				"the ballast's, in proportion to the watts of tube and fluorescent lamp, assumed; the pair's are in the tube maker's list")
		}
	}
}
