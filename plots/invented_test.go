package plots

import (
	"fmt"
	"maps"
	"math"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

const fc = photometry.Footcandle

// saw is an invented course: light that decays between relampings and cleanings.
func saw(initial, lamp, dirt, relamp, clean, years float64) (at, lux []float64) {
	const step = 1.0 / 12
	value := func(sinceLamp, sinceClean float64) float64 {
		return initial * (1 - lamp*sinceLamp/relamp) * math.Exp(-dirt*math.Sqrt(sinceClean))
	}
	lampAt, cleanAt := 0.0, 0.0
	for k := 0.0; k <= years/step+1e-9; k++ {
		t := k * step
		at, lux = append(at, t), append(lux, value(t-lampAt, t-cleanAt))
		jump := false
		if t-lampAt >= relamp-1e-9 {
			lampAt, jump = t, true
		}
		if t-cleanAt >= clean-1e-9 {
			cleanAt, jump = t, true
		}
		if jump {
			at, lux = append(at, t), append(lux, value(t-lampAt, t-cleanAt))
		}
	}
	return at, lux
}

func lightThroughTheYears() Years {
	y := Years{Title: "Light through the years", Subtitle: "Work plane, average", Imperial: true,
		Caption: "Group relamping after 16,000 h and cleaning every 24 months; lamps and dirt as listed under assumptions."}
	at, lux := saw(42*fc, 0.22, 0.11, 5, 2, 15)
	y.Courses = append(y.Courses, Course{Name: "Existing", Role: Existing, Years: at, Values: lux})
	at, lux = saw(46*fc, 0.08, 0.11, 7, 2, 15)
	y.Courses = append(y.Courses, Course{Name: "Proposed", Role: Proposed, Years: at, Values: lux})
	y.Levels = []Level{{"active warehouse, bulky items", 30 * fc}, {"owner's lease", 20 * fc}}
	return y
}

// front is an invented catalogue: lamps of several lumens on ballasts of several factors.
func front() Front {
	o := Front{Title: "Power against light", Subtitle: "Every lamp and ballast of the catalogue that fits, in the existing layout", Imperial: true,
		Levels: []Level{{"active warehouse, bulky items", 30 * fc}}}
	for lamps := 2; lamps <= 4; lamps++ {
		for _, lamp := range []struct {
			name         string
			watts, light float64
		}{{"F32T8/25W", 25, 7.6}, {"F32T8/28W", 28, 8.5}, {"F32T8", 32, 9.0}, {"F32T8/HL", 32, 9.7}, {"LED tube 14 W", 14, 6.9}, {"LED tube 18 W", 18, 8.8}} {
			for _, ballast := range []struct {
				name   string
				factor float64
			}{{"low", 0.78}, {"normal", 0.88}, {"high", 1.15}} {
				p := Option{Name: fmt.Sprintf("%d × %s, %s", lamps, lamp.name, ballast.name), Power: float64(lamps)*lamp.watts*ballast.factor + 3,
					Light: float64(lamps) * lamp.light * ballast.factor * fc}
				p.Meets = p.Light >= 30*fc
				o.Options = append(o.Options, p)
			}
		}
	}
	o.Options[22].Role = Proposed
	o.Options[22].Name = "4 × F32T8/28W, normal"
	o.Options = append(o.Options, Option{Name: "2 × F96T12, magnetic", Role: Existing, Power: 173, Light: 27.5 * fc})
	return o
}

func effects() Effects {
	return Effects{Title: "Which input matters most", Subtitle: "Maintained average, proposed system", Imperial: true, Central: 31.2 * fc, Effects: []Effect{
		{"Dirt on the luminaires", "0.84 to 0.94", 29.1 * fc, 33.0 * fc},
		{"Ballast factor", "0.85 to 0.91", 30.1 * fc, 32.3 * fc},
		{"Reflectances of ceiling and walls", "−0.1 to +0.1", 30.4 * fc, 32.1 * fc},
		{"Mounting height", "15.5 to 16.5 ft", 31.7 * fc, 30.8 * fc},
		{"Photometry of the luminaire, as the laboratory states it", "±2 %", 30.6 * fc, 31.8 * fc},
		{"Supply voltage", "", 31.2 * fc, 31.3 * fc},
	}}
}

func cash() Cash {
	return Cash{Title: "What each system costs", Subtitle: "15 years, 3 % real discount rate", Currency: "USD", Parts: []string{"Investment", "Relamping", "Energy", "Cleaning"},
		Quantity: "Cost over 15 years, present value", Ways: []Way{
			{"Existing", "", []float64{0, 14200, 61800, 5200}},
			{"Replacement", "72 new luminaires", []float64{38900, 2100, 29400, 5200}},
			{"Proposed", "lamps and ballasts", []float64{17000, 6900, 37300, 5200}},
		}}
}

// survey is an invented plan of stations between racks, nx by ny.
func survey(nx, ny int) Stations {
	m := warehouse(120, 60, 4, 6, 12, 1100, fourRacks()...)
	north := 60.0
	s := Stations{Title: "Where to measure", Subtitle: "Dockside parts store, north bay · 2.5 ft above the floor", Imperial: true, NorthDeg: &north,
		Extent: m.Extent, Luminaires: m.Luminaires, Racks: m.Racks, Caption: "Stations of a regular lattice; readings are taken with the daylight shut out."}
	for i := range nx * ny {
		x, y := i%nx, i/nx
		kind := "inner bay"
		switch {
		case (x == 0 || x == nx-1) && (y == 0 || y == ny-1):
			kind = "corner"
		case x == 0 || x == nx-1:
			kind = "end of a row"
		case y == 0 || y == ny-1:
			kind = "along a wall"
		}
		at := Station{X: 120 * ft * (float64(x) + 0.5) / float64(nx), Y: 60 * ft * (float64(y) + 0.5) / float64(ny), Kind: kind}
		at.Deviation = 0.11*math.Sin(1.7*float64(i)) - 0.02
		switch i {
		case 7:
			at.Deviation, at.Outlier = -0.34, true
		case 11:
			at.Deviation = math.NaN()
		case 5:
			at.Deviation = 0.001
		}
		s.Stations = append(s.Stations, at)
	}
	return s
}

func deviations(nx, ny int) Stations {
	s := survey(nx, ny)
	s.Title, s.Deviations = "Readings against the prediction", true
	return s
}

// charts are one of each chart and shape.
func charts() map[string]Figure {
	all := map[string]Figure{}
	for _, some := range []map[string]Figure{yearsCharts(), frontCharts(), cashCharts(), effectsCharts(), barsCharts(), stationsCharts()} {
		maps.Copy(all, some)
	}
	return all
}

// longLevels are two that lie close, one with too long a name.
func longLevels() []Level {
	return []Level{{"a level whose name is a good deal longer than any line on which it might be written at any width that a page has", 30 * fc},
		{"next", 30.2 * fc}}
}

func yearsCharts() map[string]Figure {
	y := lightThroughTheYears()
	long := y
	long.Courses = []Course{y.Courses[0], y.Courses[1], {Name: "Proposed, relamped one lamp at a time", Years: []float64{0, 15}, Values: []float64{44 * fc, 39 * fc}}}
	long.Courses[0].Name = "Existing two-lamp strips with T12 lamps of 75 W on magnetic ballasts, cleaned at relamping only"
	long.Levels = longLevels()
	nan := math.NaN()
	return map[string]Figure{
		"years": y, "years-long": long, "years-none": Years{},
		"years-one": Years{Courses: []Course{{Name: "One point", Years: []float64{3}, Values: []float64{500}}}, Levels: []Level{{"", 300}}},
		"years-gaps": Years{Courses: []Course{
			{Name: "Gaps", Role: Proposed, Years: []float64{0, 1, 2, 3, 4}, Values: []float64{nan, 500, nan, 480, 470}},
			{Name: "None", Years: []float64{0}, Values: []float64{nan}},
		}, Levels: []Level{{"", nan}}},
		"years-huge": Years{Courses: []Course{{Name: "Huge", Years: []float64{0, 1e6}, Values: []float64{3e12, 2e12}}}, Levels: []Level{{"", 1e12}}},
		"years-tiny": Years{Courses: []Course{{Name: "Tiny", Years: []float64{0, 1e-3}, Values: []float64{3e-9, 2e-9}}}, Levels: []Level{{"", 2.5e-9}}},
	}
}

func frontCharts() map[string]Figure {
	many := front()
	for i := range 150 {
		x := float64(i)
		many.Options = append(many.Options, Option{Name: "an option with a name that is a good deal longer than others",
			Power: 40 + x, Light: (14 + x*0.2) * fc, Meets: i%3 == 0})
	}
	many.Levels = longLevels()
	area := front()
	area.PerArea, area.Imperial = true, false
	area.Options = area.Options[45:]
	for i := range area.Options {
		area.Options[i].Power /= 9
	}
	odd := Front{Options: []Option{
		{Name: "lost", Power: math.NaN(), Light: 3}, {Name: "huge", Power: 3e12, Light: 1e13, Role: Proposed}, {Name: "tiny", Power: 1e-9, Light: 1e-9, Role: Existing},
	}}
	one := Front{Options: []Option{{Name: "the only one", Power: 59, Light: 400}}, Levels: []Level{{"", 300}}}
	return map[string]Figure{"front": front(), "front-many": many, "front-area": area, "front-odd": odd, "front-one": one, "front-none": Front{}}
}

func cashCharts() map[string]Figure {
	received := cash()
	received.Parts, received.Currency = append(received.Parts, "Rebate"), "CHF"
	for i, r := range []float64{0, -9000, -4000} {
		received.Ways[i].Costs = append(received.Ways[i].Costs, r)
	}
	received.Ways = append(received.Ways, Way{"A way whose name is longer than anybody would give, on purpose",
		"and details that are as long as these here are", []float64{math.NaN(), 1, 2, 3, 4}})
	huge := Cash{Currency: "USD", Parts: []string{"a", "b"}, Ways: []Way{
		{"huge", "", []float64{3e12, 1}}, {"nothing", "", []float64{0, 0}}, {"less", "", []float64{-1e12, -1e11}},
	}}
	return map[string]Figure{"cash": cash(), "cash-received": received, "cash-none": Cash{}, "cash-huge": huge,
		"cash-one": Cash{Currency: "EUR", Parts: []string{"a"}, Ways: []Way{{"one", "", []float64{3.5}}}}}
}

func effectsCharts() map[string]Figure {
	odd := effects()
	odd.Effects = append(odd.Effects[:2], Effect{"Both ends above", "", 32 * fc, 32.8 * fc}, Effect{"Not known", "", math.NaN(), 3},
		Effect{strings.Repeat("W", 60), "x", 31 * fc, 29 * fc})
	return map[string]Figure{"effects": effects(), "effects-odd": odd, "effects-none": Effects{},
		"effects-even": Effects{Central: 5, Unit: "%", Effects: []Effect{{"even", "", 5, 5}}},
		"effects-huge": Effects{Central: 5, Effects: []Effect{{"huge", "", -5e12, 5e12}, {"tiny", "", 5, 5 + 1e-9}}}}
}

func barsCharts() map[string]Figure {
	bars := Bars{Title: "Is it enough?", Imperial: true, Bars: []Bar{{"Existing", "2 x F96T12", 31.2 * fc, Existing}, {"Proposed", "", 27.9 * fc, Proposed}, {"Replacement", "", 40 * fc, Alternative}},
		Required: []Level{{"owner's lease", 20 * fc}, {strings.Repeat("a long name of a criterion ", 6), 30 * fc}}}
	return map[string]Figure{"bars": bars, "bars-none": Bars{}, "bars-dark": Bars{Bars: []Bar{{"Existing", "", 0, Existing}}},
		"bars-unknown": Bars{Bars: []Bar{{"Existing", "", math.NaN(), Existing}, {"Proposed", "", 1e12, Proposed}}, Required: []Level{{"", 300}}}}
}

func stationsCharts() map[string]Figure {
	face := survey(8, 3)
	face.Plane, face.Luminaires, face.Racks, face.NorthDeg, face.Imperial = room.Vertical, nil, nil, nil, false
	one := Stations{Stations: []Station{{X: 3, Y: 2, Name: "by the dock door"}, {X: math.NaN()}}}
	unread := deviations(4, 3)
	for i := range unread.Stations {
		unread.Stations[i].Deviation = math.NaN()
	}
	huge := deviations(4, 3)
	huge.Stations[2].Deviation, huge.Stations[3].Deviation = 1e12, math.Inf(1)
	return map[string]Figure{
		"stations": survey(9, 5), "stations-many": survey(15, 10), "stations-face": face, "stations-one": one, "stations-none": Stations{},
		"deviations": deviations(9, 5), "deviations-many": deviations(15, 10), "deviations-none": unread, "deviations-huge": huge,
	}
}
