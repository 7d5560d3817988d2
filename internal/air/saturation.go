package air

import "math"

// Vapour over ice and water: the saturation curves, their slope and inverse, and
// the humidity measures made from them.

// SaturationPressure returns the vapour pressure [Pa] in balance with ice below
// the triple point and with liquid water above it, at celsius [°C].
//
//	ice:   ln p = C1/T + C2 + C3 T + C4 T^2 + C5 T^3 + C6 T^4 + C7 ln T
//	water: ln p = C8/T + C9 + C10 T + C11 T^2 + C12 T^3 + C13 ln T
//
// Range -100 to 200 °C. The two curves meet at 0.01 °C; the handbook changes
// over at 0 °C, where they differ by 1 part in 10,000.
//
// Source: Hyland and Wexler 1983; ASHRAE Fundamentals 2017, ch. 1, eqs. 5 and 6.
func SaturationPressure(celsius float64) float64 {
	if celsius < TriplePoint {
		return overIce(celsius)
	}
	return SaturationPressureOverWater(celsius)
}

// SaturationPressureOverWater returns the vapour pressure [Pa] in balance with
// liquid water at celsius [°C], supercooled below 0. Weather stations give
// relative humidity and dew point over water at any temperature.
// Range 0 to 200 °C; carried on below 0, where it stays within 1 % of
// the supercooled values of Goff and Gratch down to -40 °C.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 6.
func SaturationPressureOverWater(celsius float64) float64 {
	t := celsius + zeroCelsius
	return math.Exp(-5.8002206e3/t + 1.3914993 +
		t*(-4.8640239e-2+t*(4.1764768e-5-1.4452093e-8*t)) + 6.5459673*math.Log(t))
}

func overIce(celsius float64) float64 {
	t := celsius + zeroCelsius
	return math.Exp(-5.6745359e3/t + 6.3925247 +
		t*(-9.6778430e-3+t*(6.2215701e-7+t*(2.0747825e-9-9.4840240e-13*t))) + 4.1635019*math.Log(t))
}

// SaturationSlope returns d SaturationPressure/dT [Pa/K] at celsius [°C], from
// the derivative of eqs. 5 and 6.
func SaturationSlope(celsius float64) float64 {
	_, slope := Saturation(celsius)
	return slope
}

// Saturation returns SaturationPressure [Pa] and SaturationSlope [Pa/K] at celsius [°C].
func Saturation(celsius float64) (pressure, slope float64) {
	t := celsius + zeroCelsius
	pressure = SaturationPressure(celsius)
	if celsius < TriplePoint {
		d := 5.6745359e3/(t*t) - 9.6778430e-3 +
			t*(2*6.2215701e-7+t*(3*2.0747825e-9-4*9.4840240e-13*t)) + 4.1635019/t
		return pressure, d * pressure
	}
	return pressure, logSlopeOverWater(t) * pressure
}

func logSlopeOverWater(t float64) float64 {
	return 5.8002206e3/(t*t) - 4.8640239e-2 + t*(2*4.1764768e-5-3*1.4452093e-8*t) + 6.5459673/t
}

// HumidityRatio returns the humidity ratio [kg/kg] of air at pressure [Pa] that
// holds vapour at the partial pressure vapour [Pa]: W = 0.621945 e/(p - e).
// vapour must be below pressure.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 20.
func HumidityRatio(vapour, pressure float64) float64 {
	return MassRatio * vapour / (pressure - vapour)
}

// VapourPressure returns the partial pressure [Pa] of the vapour in air of
// humidity ratio w [kg/kg] at pressure [Pa]: eq. 20 solved for e.
func VapourPressure(w, pressure float64) float64 {
	return pressure * w / (MassRatio + w)
}

// SaturationHumidityRatio returns the humidity ratio [kg/kg] of saturated air at
// celsius [°C] and pressure [Pa], over ice below the triple point.
func SaturationHumidityRatio(celsius, pressure float64) float64 {
	return HumidityRatio(SaturationPressure(celsius), pressure)
}

// RelativeHumidity returns the share, 1 when saturated, of vapour [Pa] in what
// air can hold at celsius [°C] over ice or water as SaturationPressure chooses.
// It may exceed 1: fog is for the caller to settle.
//
// Source: ASHRAE Fundamentals 2017, ch. 1, eq. 22.
func RelativeHumidity(celsius, vapour float64) float64 {
	return vapour / SaturationPressure(celsius)
}

// Limits of the saturation curves [°C].
const (
	coldest = -100.0
	hottest = 200.0
)

// DewPoint returns the temperature [°C] at which vapour [Pa] begins to settle:
// as dew from the triple point up, as frost below it. The answer is held to
// -100 to 200 °C, so air with no vapour at all has its dew point at -100.
//
// Method: Newton on the logarithm of eqs. 5 and 6, to 1e-9 K.
func DewPoint(vapour float64) float64 {
	if vapour < overIce(TriplePoint) {
		return invert(vapour, func(c float64) (float64, float64) {
			return overIce(c), SaturationSlope(math.Min(c, TriplePoint-1e-12))
		})
	}
	return DewPointOverWater(vapour)
}

// DewPointOverWater returns the dew point [°C] over liquid water, supercooled
// below 0, of vapour [Pa]: what a weather file means by dew point. Held to -100
// to 200 °C.
func DewPointOverWater(vapour float64) float64 {
	return invert(vapour, func(c float64) (float64, float64) {
		p := SaturationPressureOverWater(c)
		return p, p * logSlopeOverWater(c+zeroCelsius)
	})
}

// invert solves curve(c) = pressure for c, where curve gives pressure and slope.
// The logarithm of either curve is nearly straight in 1/T, so Newton in 1/T
// needs four or five turns from anywhere in range.
func invert(pressure float64, curve func(float64) (float64, float64)) float64 {
	if math.IsNaN(pressure) {
		return math.NaN()
	}
	if pressure <= 0 {
		return coldest
	}
	want := math.Log(pressure)
	c := 0.0
	for range 60 {
		p, slope := curve(c)
		t := c + zeroCelsius
		// d ln p / d(1/T) = -T^2 (dp/dT)/p
		inverse := 1/t - (want-math.Log(p))/(t*t*slope/p)
		next := hottest
		if inverse > 0 {
			next = min(max(1/inverse-zeroCelsius, coldest), hottest)
		}
		if math.Abs(next-c) < 1e-9 {
			return next
		}
		c = next
	}
	return c
}
