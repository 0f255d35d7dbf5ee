package number

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestDigits(t *testing.T) {
	for x, want := range map[float64]string{0: "0.00", 9.994: "9.99", 9.996: "10.0", 99.94: "99.9", 99.96: "100", 1234.5: "1234", -12.34: "-12.3"} {
		assert.Equal(t, want, Digits(x))
	}
	assert.Equal(t, "-", Digits(math.NaN()))
}

func TestFixedAndSigned(t *testing.T) {
	for _, c := range []struct {
		x             float64
		digits        int
		fixed, signed string
	}{{5, 0, "5", "+5"}, {-5.26, 1, "-5.3", "-5.3"}, {0, 0, "0", "0"}, {math.Copysign(0, -1), 2, "0.00", "0.00"}, {-0.4, 0, "0", "0"}, {0.4, 0, "0", "0"},
		{-0.04, 1, "0.0", "0.0"}, {-0.05, 2, "-0.05", "-0.05"}, {100, 0, "100", "+100"}, {math.NaN(), 3, "-", "-"}} {
		assert.Equal(t, c.fixed, Fixed(c.x, c.digits), "%v", c.x)
		assert.Equal(t, c.signed, Signed(c.x, c.digits), "%v", c.x)
	}
	assert.Equal(t, "0.00", Digits(-1e-9))
}

func TestPercentAndGrouped(t *testing.T) {
	assert.Equal(t, []string{"+26 %", "-50 %", "0 %", "", "", ""},
		[]string{Percent(100, 126), Percent(2, 1), Percent(1000, 999), Percent(0, 1), Percent(0, 0), Percent(1, math.NaN())})
	assert.Equal(t, []string{"-12,345.6789", "999", "-1 000 000,5", "+Inf", "-"},
		[]string{Grouped("-12345.6789", ","), Grouped("999", ","), Grouped("-1000000,5", " "), Grouped("+Inf", ","), Grouped("-", ",")})
	assert.Equal(t, []string{"0", "-1", "1,000", "-"}, []string{Thousands(-0.5), Thousands(-0.6), Thousands(999.6), Thousands(math.NaN())})
	assert.Equal(t, []float64{0.3, 1240, math.Inf(1)}, []float64{Round(0.1+0.2, 1e-9), Significant(1236, 3), Significant(math.Inf(1), 3)})
}
