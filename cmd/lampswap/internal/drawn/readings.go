package drawn

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

// Readings draws a file of readings at stations of the names: of few of them or of all, all alike or not, zeros among them, some twice.
func Readings(t *rapid.T, names []string, unit string) string {
	var b strings.Builder
	b.WriteString("station,reading_" + unit + "\n")
	names = names[:rapid.OneOf(rapid.Just(1), rapid.Just(len(names)), rapid.IntRange(1, len(names))).Draw(t, "stations")]
	tenths := rapid.Map(rapid.IntRange(0, 10_000), func(k int) float64 { return float64(k) / 10 })
	value := rapid.OneOf(rapid.Just(0.0), tenths, rapid.Just(18000.0))
	kind := rapid.SampledFrom([]string{"any", "alike", "dark"}).Draw(t, "readings")
	alike := value.Draw(t, "reading")
	for _, name := range names {
		for range rapid.IntRange(1, 2).Draw(t, "times") {
			x := alike
			switch kind {
			case "any":
				x = value.Draw(t, "reading of "+name)
			case "dark":
				x = 0
			}
			fmt.Fprintf(&b, "%s,%v\n", name, x)
		}
	}
	return b.String()
}
