// Package currency writes amounts of money: the sign of their currency before or behind, digits in groups, decimals, all by the currency's
// habits. A currency that is not in the list has its three letters behind the amount, and digits as English texts group them. One that
// is not known, "", has neither sign nor letters.
//
// Habits that English takes for others are left out: where a point sets thousands apart a space does.
package currency

import (
	_ "embed"
	"math"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"lampswap/photometry/internal/table"
	"lampswap/photometry/number"
)

//go:embed currencies.csv
var currenciesCSV string

// A habit is how amounts of a currency are written.
type habit struct {
	sign         string
	before       bool // the sign stands before the amount
	group, point string
	decimals     int
}

// noBreak is a space at which no line ends.
const noBreak = "\u00a0"

var habits = sync.OnceValue(func() map[string]habit {
	all := map[string]habit{}
	for _, r := range table.Load("currencies", currenciesCSV, "code", "name", "sign", "before", "group", "point", "decimals", "source") {
		group, known := map[string]string{"comma": ",", "space": noBreak, "apostrophe": "’"}[r.Required("group")]
		point, also := map[string]string{"point": ".", "comma": ","}[r.Required("point")]
		if !known || !also || group == point {
			r.Fail("group", "and point set nothing apart")
		}
		all[r.Required("code")] = habit{r.Required("sign"), r.Required("before") == "yes", group, point, int(r.Number("decimals"))}
	}
	return all
})

func habitOf(code string) habit {
	if h, ok := habits()[code]; ok {
		return h
	}
	return habit{code, false, ",", ".", 2}
}

// Amount writes an amount to the unit: $1,234, 1 234 kr; a dash for NaN.
func Amount(code string, x float64) string { return write(code, x, 0) }

// Fine writes an amount with the decimals that its currency has: $0.50.
func Fine(code string, x float64) string { return write(code, x, habitOf(code).decimals) }

// Rate writes what one of something costs, with as many digits as it is given with, at most four that count: $4, $0.0625.
func Rate(code string, x float64) string {
	shown := number.Significant(x, 4)
	_, decimals, _ := strings.Cut(number.Fixed(shown, -1), ".")
	return write(code, shown, len(decimals))
}

// write writes an amount with so many decimals.
func write(code string, x float64, decimals int) string {
	if math.IsNaN(x) {
		return "-"
	}
	h := habitOf(code)
	return Around(code, number.Grouped(strings.Replace(number.Fixed(x, decimals), ".", h.point, 1), h.group))
}

// around puts the sign of a currency to a number; letters are set apart from it.
func (h habit) around(amount string) string {
	apart := noBreak
	if last, size := utf8.DecodeLastRuneInString(h.sign); h.before && (len(h.sign) == size || !unicode.IsLetter(last)) { // $, R, CA$
		apart = ""
	}
	switch {
	case h.sign == "":
		return amount
	case h.before:
		return h.sign + apart + amount
	}
	return amount + apart + h.sign
}

// Around puts the sign of a currency to a number that is written already, such as one with an exponent.
func Around(code, amount string) string {
	if rest, negative := strings.CutPrefix(amount, "-"); negative {
		return "-" + habitOf(code).around(rest)
	}
	return habitOf(code).around(amount)
}
