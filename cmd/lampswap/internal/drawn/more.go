package drawn

import (
	"fmt"

	"lampswap/photometry/codes"
	"lampswap/photometry/levels"
)

func (p *pen) calculation() {
	p.line("[calculation]\nspacing = %s\ninterreflection = %v", p.meters(max(p.length, p.width)/float64(p.count("points", 6))), p.bounces)
	p.grids = []string{"work plane"}
	for p.once(3, "grid") {
		name := fmt.Sprintf("grid %d", len(p.grids))
		p.line("[[grids]]\nname = %q\nspacing = %s", name, p.meters(max(p.length, p.width, p.height)/float64(p.count("grid points", 4))))
		x1, x2 := p.length*p.number("from x", 0, 0.5), p.length*p.number("to x", 0.51, 1)
		y1, y2 := p.width*p.number("from y", 0, 0.5), p.width*p.number("to y", 0.51, 1)
		switch p.word("kind", "floor", "at the lamps", "aisle along", "aisle across") {
		case "floor":
			p.line("area = [%s, %s, %s, %s]\nheight = 0.0", p.meters(x1), p.meters(y1), p.meters(x2), p.meters(y2))
		case "at the lamps":
			p.line("area = [0.0, 0.0, %s, %s]\nheight = %s", p.meters(p.length), p.meters(p.width), p.meters(p.mounting))
		case "aisle along":
			p.line("from = [%s, %s]\nto = [%s, %s]\nheights = [0.0, %s]\nfacing = %s", p.meters(x1), p.meters(y1), p.meters(x2), p.meters(y1), p.meters(p.height), dot(p.word64("facing", 90, -90)))
		default:
			p.line("from = [%s, %s]\nto = [%s, %s]\nheights = [%s, %s]\nfacing = %s", p.meters(x1), p.meters(y1), p.meters(x1), p.meters(y2), p.meters(p.plane*0.5), p.meters(p.mounting), dot(p.word64("facing", 0, 180)))
		}
		p.grids = append(p.grids, name)
	}
}

// No criteria are drawn that no light can meet together: what is asked at least is less than what is asked at most, and even light keeps
// every ratio.
func (p *pen) criteria() {
	const between = 1e4 // above every published level
	for i := 0; p.once(2, "criterion"); i++ {
		p.line("[[criteria]]\nname = \"criterion of %d\"", i)
		switch p.word("criterion", "level", "code", "own") {
		case "level":
			p.line("level = %q\ngrid = %q", p.word("level", levels.Names()...), p.word("grid of it", p.grids...))
		case "code":
			p.line("energy_code = %q\nspace = \"Warehouse\"", p.word("code", codes.Editions()...))
		default:
			p.ownRule(between)
		}
	}
}

func (p *pen) ownRule(between float64) {
	statistic := p.word("statistic", levels.StatisticNames()...)
	switch {
	case statistic == "average_to_minimum" || statistic == "maximum_to_minimum":
		p.line("at_most = %s", dot(p.number("required", 1, 1e9)))
	case statistic == "power_density":
		p.line("at_most = %s", dot(p.number("required", 1e-9, 1e9)))
	case p.once(3, "at most"):
		p.line("at_most = %s", dot(p.number("required", between, 1e9)))
	default:
		p.line("at_least = %s", dot(p.number("required", 1e-9, between)))
	}
	p.line("statistic = %q", statistic)
	if statistic != "power_density" {
		p.line("grid = %q", p.word("grid of it", p.grids...))
	}
}

func (p *pen) egress() {
	if len(p.grids) > 1 && p.once(2, "egress") {
		p.line("[egress]\nluminaires = [%d]\ngrid = %q\nlight_share = %s", p.count("burning", p.fewest), p.grids[1], dot(p.number("share", 0.001, 1)))
	}
}

func (p *pen) money() {
	if p.once(2, "priced") {
		p.line("[energy]\n%s = %s", p.word("price", "price_per_kwh", "average_price_per_kwh"), dot(p.number("price", 0, 1e3)))
		if p.once(2, "demand") {
			p.line("demand_price_per_kw_month = %s\ndemand_months = %s\ndemand_share = %s", dot(p.number("demand", 0, 1e3)), dot(p.number("months of it", 0, 12)), dot(p.number("share of it", 0, 1)))
		}
		if p.once(3, "rate") {
			p.line("co2_kg_per_kwh = %s\nco2_rate = \"drawn, 2025\"", dot(p.number("rate", 0, 3)))
		}
		if p.once(2, "rebate") {
			p.line("rebate = %s", dot(p.number("rebate", 0, 1e6)))
		}
		if p.once(3, "cooling and heating") {
			p.line("heating_cooling_factor = %s", dot(p.number("factor", -0.9, 1)))
		}
		if p.once(3, "rebates") {
			p.line("[[rebates]]\nper = %q\namount = %s", p.word("per", "luminaire", "kwh", "kw"), dot(p.number("amount", 0, 1e3)))
		}
	}
	if p.once(3, "life cycle") {
		p.line("[life_cycle]\nyears = %d\ndiscount_rate = %s\nenergy_escalation = %s", p.count("years", 40), dot(p.number("discount", 0, 0.5)), dot(p.number("escalation", -0.2, 0.2)))
	}
}

func (p *pen) uncertainty() {
	p.line("[uncertainty]\nsamples = 1000\nconfidence = %s", dot(p.number("confidence", 0.5, 0.999)))
	for _, in := range []struct {
		key  string
		most float64
	}{{"lamp_lumens", 90}, {"ballast_factor", 90}, {"luminaire_dirt", 100}, {"room_surface_dirt", 100}, {"voltage", 90}, {"photometry", 90},
		{"ambient_temperature", 100}, {"mounting_height", 1}} {
		if p.once(4, in.key) {
			p.line("%s%s = %s", in.key, p.word("kind of "+in.key, "", "_standard"), dot(p.number("tolerance of "+in.key, 0, in.most)))
		}
	}
	if p.once(3, "reflectances") {
		p.line("[uncertainty.reflectance]\nceiling = %s\nwalls = %s\nfloor_standard = %s", dot(p.number("of ceiling", 0, 0.5)), dot(p.number("of walls", 0, 0.5)), dot(p.number("of floor", 0, 0.5)))
	}
	if p.once(3, "own tolerances") {
		p.line("[uncertainty.proposed]\nlamp_lumens = %s\ntemperature_standard = %s", dot(p.number("own lumens", 0, 90)), dot(p.number("own temperature", 0, 90)))
	}
}
