package plots

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/plot/vg"
)

func TestEndsOfAnEffect(t *testing.T) {
	e := Effects{Central: 10}
	for _, c := range []struct {
		name         string
		effect       Effect
		below, above string
	}{
		{"around", Effect{Low: 8, High: 13}, "8.0", "13.0"},
		{"the other way about", Effect{Low: 13, High: 8}, "8.0", "13.0"},
		{"both above", Effect{Low: 11, High: 12}, "", "11.0 and 12.0"},
		{"both below", Effect{Low: 9, High: 7}, "7.0 and 9.0", ""},
		{"none", Effect{Low: 10, High: 10}, "", "10.0"},
	} {
		below, above := e.ends(c.effect)
		assert.Equal(t, [2]string{c.below, c.above}, [2]string{below, above}, c.name)
	}
}

func TestTextOfEffects(t *testing.T) {
	texts := recordFigure(effects(), 6.5*vg.Inch).texts
	for _, want := range []string{"Maintained average (fc)", "Dirt on the luminaires", "0.84 to 0.94", "29.1", "33.0", "as computed: 31.2 fc", "input at its low end"} {
		assert.Contains(t, texts, want)
	}
	assert.Contains(t, recordFigure(charts()["effects-odd"], 4*vg.Inch).texts, "unknown")
	assert.Contains(t, effects().Describe(), "Mounting height: 31.7 to 30.8 fc.", "low end first")
	assert.Equal(t, "Maintained average (%)", Effects{Unit: "%"}.resolved().axis().Name)
}

// TestEffectsStandInTheOrderGiven looks at the heights of their names.
func TestEffectsStandInTheOrderGiven(t *testing.T) {
	l := recordFigure(effects(), 6.5*vg.Inch)
	last := l.height
	for _, e := range effects().Effects[:4] {
		for i, s := range l.texts {
			if s == e.Name {
				assert.Less(t, l.boxes[i].Centre.Y, last, e.Name)
				last = l.boxes[i].Centre.Y
			}
		}
	}
}
