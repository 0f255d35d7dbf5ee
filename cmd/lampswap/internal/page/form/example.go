package form

import "strings"

// example is what a number of a unit may look like, in feet and in meters; it stands beside a fault, for whoever does not see what would be right.
var examples = map[string][2]string{"length": {`18.5, or 18'6"`, "5.6"}, "light": {"20", "200"}, "temperature": {"68", "20"}, "power": {"0.8", "9"}, "0–1": {"0.5", "0.5"}, "of 1": {"0.88", "0.88"},
	"lm": {"2950", "2950"}, "W": {"59", "59"}, "h": {"30000", "30000"}, "h a year": {"4000", "4000"}, "h burnt": {"12000", "12000"}, "months": {"24", "24"}, "°": {"120", "120"}, "K": {"4000", "4000"},
	"of 100": {"80", "80"}, "to 1": {"3", "3"}, "of its hours": {"0.3", "0.3"}, "of the light": {"0.7", "0.7"}, "° from +x": {"90", "90"}}

// example of what may stand in a field; "" for a field of words or of choices.
func (f Field) example(imperial bool) string {
	one := ""
	switch pair, known := examples[f.unit]; {
	case f.kind == counts:
		return "4, or 3, 8, 14"
	case f.kind == whole:
		return "4"
	case f.kind != numeric:
		return ""
	case !known:
		return "12.5"
	case imperial:
		one = pair[0]
	default:
		one = pair[1]
	}
	if len(f.parts) > 1 { // a list, of which each box has its own
		first, _, _ := strings.Cut(one, ",")
		return first + " in each box"
	}
	return one
}
