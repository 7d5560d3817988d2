package worth

import "suncellar/internal/weather"

// Outdoors is the third kind: weather that another winter would bring. It is moved over all hours alike, and belongs to no band of the
// house.
const Outdoors Kind = "outdoors"

// Units outdoors.
var (
	oneCold = Amount{1, "1 °C", 5.0 / 9, "1 °F"}
	oneSky  = Amount{10, "10 W/m²", 10, "10 W/m²"}
	oneWind = Amount{1, "1 m/s", 0.44704, "1 mph"}
)

// outdoors adds what moves the whole weather: the air with its dew point and its sky, the sky alone (clouds warm it), the wind.
func (t *things) outdoors() {
	move := func(id, label string, one Amount, shift func(h *weather.Hour, x float64)) {
		t.add(Parameter{ID: id, Label: label, Kind: Outdoors, One: one, Step: one.SI, shift: shift})
	}
	move("outdoors.air", "air outdoors, its sky with it", oneCold, func(h *weather.Hour, x float64) {
		h.SkyLongwaveWM2 *= 1 + 4*x/(h.AirC+kelvin) // at the same emissivity
		h.AirC += x
		h.DewPointC += x
	})
	move("outdoors.sky", "longwave of the sky (cloud)", oneSky, func(h *weather.Hour, x float64) { h.SkyLongwaveWM2 += x })
	move("outdoors.wind", "wind", oneWind, func(h *weather.Hour, x float64) { h.WindMS = max(0, h.WindMS+x) })
}

// kelvin is 0 °C [K].
const kelvin = 273.15
