package weather

import "suncellar/internal/air"

// putHumidity stores relative humidity [%, over water as stations give it] of hour i as a dew point. The air
// temperature of the hour must have been stored before; without it nothing is stored.
func (d *draft) putHumidity(i int, percent float64, line int, c cell) {
	h := &d.series.Hours[i]
	if v, ok := d.dewOf(percent, h.AirC, line, c); ok {
		h.DewPointC = v
	}
}

// dewOf is the dew point of a relative humidity [%, over water] at an air temperature [°C]; false where that is not known, or, with a finding, for what
// cannot be.
func (d *draft) dewOf(percent, airC float64, line int, c cell) (float64, bool) {
	if !(percent >= 0 && percent <= 105) {
		d.add(line, c.column, "relative humidity is %s, must be 0 to 105 %%", quote(c.text))
		return 0, false
	}
	if airC != airC {
		return 0, false
	}
	share := min(max(percent, 0.5), 100) / 100
	d.read[dewPoint] = true
	return air.DewPointOverWater(share * air.SaturationPressureOverWater(airC)), true
}

// putHumidityRatio stores the humidity ratio [kg/kg] of hour i as a dew point at the pressure of the hour [Pa].
func (d *draft) putHumidityRatio(i int, ratio, pressurePa float64, line int, c cell) {
	if !(ratio >= 0 && ratio <= 0.05) {
		d.add(line, c.column, "humidity ratio is %s, must be 0 to 50 g/kg", quote(c.text))
		return
	}
	d.series.Hours[i].DewPointC = air.DewPointOverWater(air.VapourPressure(max(ratio, 1e-6), pressurePa))
	d.read[dewPoint] = true
}
