package currency

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/currency"
	"pgregory.net/rapid"
)

func Example() {
	fmt.Println(Amount("USD", -1234.4), Fine("USD", 1234.5), Rate("USD", 0.0625), Amount("", 1234))
	// Output: -$1,234 $1,234.50 $0.0625 1,234
}

func TestHabits(t *testing.T) {
	for _, c := range []struct {
		code string
		x    float64
		want string
	}{
		{"USD", 1234567.5, "$1,234,567.50"}, {"", 1234, "1,234.00"}, {"EUR", 12400.5, "€12\u00a0400.50"}, {"GBP", 999, "£999.00"},
		{"CHF", 12400.5, "CHF\u00a012’400.50"}, {"PLN", 12400.5, "12\u00a0400,50\u00a0zł"}, {"JPY", 12400, "¥12,400"}, {"CAD", 5, "CA$5.00"},
		{"QQQ", 5, "5.00\u00a0QQQ"}, {"USD", -0.001, "$0.00"}, {"USD", math.NaN(), "-"}, {"ZAR", 1000, "R1\u00a0000.00"},
	} {
		assert.Equal(t, c.want, Fine(c.code, c.x), c.code)
	}
	assert.Equal(t, "$4", Rate("USD", 4))
	assert.Equal(t, "-$1.5e12", Around("USD", "-1.5e12"))
}

// Every row of the list can be read, and has the decimals that ISO 4217 gives it, as golang.org/x/text knows them.
func TestDecimals(t *testing.T) {
	require.NotEmpty(t, habits())
	for code, h := range habits() {
		unit, err := currency.ParseISO(code)
		require.NoError(t, err)
		scale, _ := currency.Standard.Rounding(unit)
		assert.Equal(t, scale, h.decimals, code)
	}
}

// No two amounts that differ by one are written alike, whatever the currency.
func TestAmountsTellApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		code := rapid.SampledFrom([]string{"", "USD", "EUR", "CHF", "PLN", "JPY", "XYZ"}).Draw(t, "code")
		x := math.Round(rapid.Float64Range(-1e9, 1e9).Draw(t, "x"))
		assert.NotEqual(t, Amount(code, x), Amount(code, x+1))
	})
}
