package air

import (
	"fmt"
	"math"
)

// HumidityRatioOfWetBulb returns the humidity ratio [kg/kg] of air at celsius
// [°C] whose wet bulb reads bulb [°C], at pressure [Pa]. The bulb is wet from 0
// °C up and iced below.
//
//	wet:  W = ((2501 - 2.326 b) Ws(b) - 1.006 (t - b))/(2501 + 1.86 t - 4.186 b)
//	iced: W = ((2830 - 0.24 b) Ws(b) - 1.006 (t - b))/(2830 + 1.86 t - 2.1 b)
//
// The answer is negative where no air of that temperature can have such a bulb.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eqs. 33 and 35.
func HumidityRatioOfWetBulb(celsius, bulb, pressure float64) float64 {
	ws := SaturationHumidityRatio(bulb, pressure)
	if bulb >= 0 {
		return ((2501-2.326*bulb)*ws - 1.006*(celsius-bulb)) / (2501 + 1.86*celsius - 4.186*bulb)
	}
	return ((2830-0.24*bulb)*ws - 1.006*(celsius-bulb)) / (2830 + 1.86*celsius - 2.1*bulb)
}

// WetBulb returns the temperature [°C] that a wetted (below 0 °C iced) bulb
// takes in air at celsius [°C], humidity ratio w [kg/kg] and pressure [Pa].
// Supersaturated air has its wet bulb at celsius. Between the wet and the iced
// bulb lies a narrow range of humidity that neither formula reaches; there the
// answer is 0 °C. An error says which input is impossible.
//
// Method: eqs. 33 and 35 of ASHRAE Fundamentals 2017, ch. 1, by bisection to 1e-9 K.
func WetBulb(celsius, w, pressure float64) (float64, error) {
	switch {
	case !(celsius > coldest && celsius < hottest):
		return 0, fmt.Errorf("wet bulb: air is %g °C, must be between -100 and 200 °C", celsius)
	case !(w >= 0 && w < 1):
		return 0, fmt.Errorf("wet bulb: humidity ratio is %g kg/kg, must be 0 to 1", w)
	case !(pressure > SaturationPressure(celsius) && !math.IsInf(pressure, 1)):
		return 0, fmt.Errorf("wet bulb: pressure is %g Pa, must be finite and above the saturation pressure %.0f Pa", pressure, SaturationPressure(celsius))
	}
	low, high := min(coldest, celsius), celsius
	for high-low > 1e-9 {
		mid := 0.5 * (low + high)
		if HumidityRatioOfWetBulb(celsius, mid, pressure) > w {
			high = mid
		} else {
			low = mid
		}
	}
	return high, nil
}
