package building

import (
	"lampswap/photometry"
)

// lengths and temperatures are the keys of [kinds] and [upkeep] whose bare numbers are in the units of their file.
var (
	lengths      = []string{"lamp_diameter", "lamp_length"}
	temperatures = []string{"ambient_temperature", "minimum_temperature"}
)

// converter turns what a building lends to a job in other units into those of the job.
func converter(metric bool) func(key string, value any) any {
	length := func(x float64) float64 { return x / photometry.Foot }
	temperature := photometry.FahrenheitFromCelsius
	if metric { // the job, of a building in feet
		length = func(x float64) float64 { return x * photometry.Foot }
		temperature = photometry.CelsiusFromFahrenheit
	}
	by := map[string]func(float64) float64{}
	for _, key := range lengths {
		by[key] = length
	}
	for _, key := range temperatures {
		by[key] = temperature
	}
	return func(key string, value any) any {
		if key == "temperature_points" {
			return points(value, temperature)
		}
		if turn := by[key]; turn != nil {
			return turned(value, turn)
		}
		return value
	}
}

// turned is a number turned into another unit; what is no number stays.
func turned(value any, turn func(float64) float64) any {
	switch x := value.(type) {
	case int64:
		return turn(float64(x))
	case float64:
		return turn(x)
	}
	return value
}

// points turns the first number of each pair.
func points(value any, turn func(float64) float64) any {
	list, is := value.([]any)
	if !is {
		return value
	}
	out := make([]any, len(list))
	for i, element := range list {
		pair, is := element.([]any)
		if is && len(pair) > 0 {
			pair = append([]any{turned(pair[0], turn)}, pair[1:]...)
			element = pair
		}
		out[i] = element
	}
	return out
}
