package airflow

import "fmt"

// Leakage is air through joints, by their effective leakage area.
type Leakage struct {
	AreaM2 float64 // effective leakage area at 4 Pa [m2]
	Stack  float64 // stack coefficient [(L/s)^2/(cm^4 K)]
	Wind   float64 // wind coefficient [(L/s)^2/(cm^4 (m/s)^2)]
}

// NewLeakage returns the leakage of a building of 1 to 3 storeys (a
// greenhouse is one) in a shelter class from 1, open ground, to 5, close behind tall obstacles.
//
// Source: ASHRAE Fundamentals 2017, ch. 16, tables 4 and 6, from memory.
func NewLeakage(areaM2 float64, storeys, shelter int) (Leakage, error) {
	if storeys < 1 || storeys > 3 {
		return Leakage{}, fmt.Errorf("leakage: storeys is %d, must be 1 to 3", storeys)
	}
	if shelter < 1 || shelter > 5 {
		return Leakage{}, fmt.Errorf("leakage: shelter class is %d, must be 1 to 5", shelter)
	}
	if err := within(bound{"effective leakage area in m2", areaM2, 0, 10}); err != nil {
		return Leakage{}, fmt.Errorf("leakage: %w", err)
	}
	wind := [3][5]float64{
		{0.000319, 0.000246, 0.000174, 0.000104, 0.000032},
		{0.000420, 0.000325, 0.000231, 0.000137, 0.000042},
		{0.000494, 0.000382, 0.000271, 0.000161, 0.000049},
	}
	return Leakage{AreaM2: areaM2, Stack: 0.000145 * float64(storeys), Wind: wind[storeys-1][shelter-1]}, nil
}

// Flow returns the outdoor air that leaks in, and as much out [m3/s], at inside
// and outside temperatures [°C] and wind at the site's station [m/s]:
//
//	Q = A sqrt(Cs |dT| + Cw v^2)/1000,  A in cm2
//
// Valid for a tight envelope with its joints spread about. Below 0.1 K and 0.1 m/s
// the root is made straight, so that Q is 0 at rest.
//
// Source: Sherman and Grimsrud 1980; ASHRAE Fundamentals 2017, ch. 16, basic model.
func (l Leakage) Flow(insideC, outsideC, wind float64) float64 {
	warmth := evenRoot(insideC-outsideC, 0.1)
	drive := l.Stack*warmth*warmth + l.Wind*wind*wind
	return 10 * l.AreaM2 * signedRoot(drive, l.Stack*0.1+l.Wind*0.01)
}

// AirChanges is leakage given as air changes, as a log or a table has it.
type AirChanges struct {
	Still   float64 // in still air with no difference of temperature [1/h]
	PerWind float64 // more for each m/s of wind [1/h per m/s]
	PerK    float64 // more for each kelvin between inside and outside [1/h per K]
}

// Flow returns the outdoor air [m3/s] that enters a house of volume [m3]:
// (still + per wind v + per kelvin |dT|) volume/3600. |dT| is rounded below 0.1 K.
//
// The flow is a volume at the site's own density. Air changes stated at sea-level
// density carry less volume's worth of mass higher up: see AtSeaLevelDensity.
//
// Source: common practice, no source: 0.2 to 0.4 per m/s and 0.01 to 0.02 per K.
func (a AirChanges) Flow(volumeM3, insideC, outsideC, wind float64) float64 {
	warmth := evenRoot(insideC-outsideC, 0.1)
	return (a.Still + a.PerWind*wind + a.PerK*warmth*warmth) * volumeM3 / 3600
}

// AtSeaLevelDensity returns the air changes of a site at pressure [Pa] that move as much mass
// with air of sea-level density as a do with air of the site's: a p/101325. It is what
// a model with sea-level air must be given: 0.5 at 1,609 m becomes 0.41.
//
// Source: NREL/TP-472-6231, section on infiltration.
func (a AirChanges) AtSeaLevelDensity(pressurePa float64) AirChanges {
	share := pressurePa / seaLevelPa
	return AirChanges{a.Still * share, a.PerWind * share, a.PerK * share}
}

// WithFan returns the outdoor air [m3/s] where natural leakage [m3/s] meets a fan
// that only blows in or only draws out [m3/s]: sqrt(natural^2 + fan^2). A fan
// balanced by another just adds.
//
// Source: ASHRAE Fundamentals 2017, ch. 16, superposition in quadrature, from memory.
func WithFan(natural, fan float64) float64 { return quadrature(natural, fan) }

// Fan moves air whatever the weather.
type Fan struct {
	FlowM3S float64 // at full speed [m3/s]
	PowerW  float64 // electric power at full speed [W]; it all ends as heat where the air goes
}

// At returns the flow [m3/s] and the power [W] at a share of full speed, 0 to 1:
// flow goes with speed and power with its cube (fan laws).
func (f Fan) At(speed float64) (flowM3S, powerW float64) {
	s := min(max(speed, 0), 1)
	return s * f.FlowM3S, s * s * s * f.PowerW
}
