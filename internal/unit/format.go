package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// System is the family of units a reader wants to see.
type System int

// The systems.
const (
	SI System = iota // metric: °C, m, L, kWh
	US               // US customary: °F, ft and in, gal, Btu
)

// shown is how one kind is printed from a size on: the unit's name in units,
// and its sign for people. The first row of a kind and system is its main unit.
type shown struct {
	kind   Kind
	system System
	name   string
	sign   string
	from   float64 // least size it is used for [SI unit of the kind]
}

var shows = [...]shown{
	{Length, SI, "m", "m", 1}, {Length, SI, "cm", "cm", 0.01}, {Length, SI, "mm", "mm", 0}, {Length, SI, "km", "km", 1e4},
	{Length, US, "ft", "ft", foot}, {Length, US, "in", "in", 0}, {Length, US, "mi", "mi", 5280 * foot},
	{Area, SI, "m2", "m²", 0}, {Area, US, "ft2", "ft²", 0},
	{Volume, SI, "L", "L", 0}, {Volume, SI, "m3", "m³", 10}, {Volume, US, "gal", "gal", 0},
	{Temperature, SI, "degC", "°C", 0}, {Temperature, US, "degF", "°F", 0},
	{TemperatureDifference, SI, "delta_degC", "°C", 0}, {TemperatureDifference, US, "delta_degF", "°F", 0},
	{DegreeHours, SI, "K h", "°C h", 0}, {DegreeHours, US, "degF h", "°F h", 0},
	{Angle, SI, "deg", "°", 0}, {Angle, US, "deg", "°", 0},
	{Duration, SI, "h", "h", 3600}, {Duration, SI, "min", "min", 60}, {Duration, SI, "s", "s", 0}, {Duration, SI, "d", "d", 3 * day},
	{Duration, US, "h", "h", 3600}, {Duration, US, "min", "min", 60}, {Duration, US, "s", "s", 0}, {Duration, US, "d", "d", 3 * day},
	{Mass, SI, "kg", "kg", 1}, {Mass, SI, "g", "g", 0}, {Mass, SI, "t", "t", 1e4},
	{Mass, US, "lb", "lb", pound}, {Mass, US, "oz", "oz", 0},
	{ArealMass, SI, "kg/m2", "kg/m²", 0}, {ArealMass, US, "lb/ft2", "lb/ft²", 0},
	{Density, SI, "kg/m3", "kg/m³", 0}, {Density, US, "lb/ft3", "lb/ft³", 0},
	{Conductivity, SI, "W/mK", "W/(m K)", 0}, {Conductivity, US, "Btu/(h ft degF)", "Btu/(h ft °F)", 0},
	{Resistance, SI, "m2K/W", "m² K/W", 0}, {Resistance, US, "R", "R", 0},
	{Transmittance, SI, "W/m2K", "W/(m² K)", 0}, {Transmittance, US, "Btu/(h ft2 degF)", "Btu/(h ft² °F)", 0},
	{Conductance, SI, "W/K", "W/K", 0}, {Conductance, US, "Btu/(h degF)", "Btu/(h °F)", 0},
	{SpecificHeat, SI, "J/kgK", "J/(kg K)", 0}, {SpecificHeat, US, "Btu/(lb degF)", "Btu/(lb °F)", 0},
	{VolumetricHeat, SI, "MJ/m3K", "MJ/(m³ K)", 0}, {VolumetricHeat, US, "Btu/(ft3 degF)", "Btu/(ft³ °F)", 0},
	{Power, SI, "W", "W", 0}, {Power, SI, "kW", "kW", 1e4}, {Power, US, "Btu/h", "Btu/h", 0},
	{Energy, SI, "kWh", "kWh", 0}, {Energy, US, "kWh", "kWh", 0},
	{Irradiance, SI, "W/m2", "W/m²", 0}, {Irradiance, US, "Btu/(h ft2)", "Btu/(h ft²)", 0},
	{Irradiation, SI, "kWh/m2", "kWh/m²", 0}, {Irradiation, US, "Btu/ft2", "Btu/ft²", 0},
	{DailyIrradiation, SI, "kWh/m2d", "kWh/(m² d)", 0}, {DailyIrradiation, US, "Btu/ft2d", "Btu/(ft² d)", 0},
	{DailyLight, SI, "mol/m2d", "mol/(m² d)", 0}, {DailyLight, US, "mol/m2d", "mol/(m² d)", 0},
	{Flow, SI, "m3/h", "m³/h", 0}, {Flow, US, "cfm", "cfm", 0},
	{AirChanges, SI, "ach", "ach", 0}, {AirChanges, US, "ach", "ach", 0},
	{Speed, SI, "m/s", "m/s", 0}, {Speed, US, "mph", "mph", 0},
	{Pressure, SI, "Pa", "Pa", 0}, {Pressure, SI, "kPa", "kPa", 1000}, {Pressure, US, "psf", "psf", 0},
	{Extinction, SI, "1/m", "1/m", 0}, {Extinction, US, "1/in", "1/in", 0},
	{Moisture, SI, "%", "%", 0}, {Moisture, US, "%", "%", 0},
	{Share, SI, "%", "%", 0}, {Share, US, "%", "%", 0},
	{AreaRatio, SI, "cm2/m2", "cm²/m²", 0}, {AreaRatio, US, "in2/ft2", "in²/ft²", 0},
	{Ratio, SI, "", "", 0}, {Ratio, US, "", "", 0},
	{Count, SI, "", "", 0}, {Count, US, "", "", 0},
}

// Format writes a value for people, with the unit that suits its size and the
// given number of digits after the point, such as "12 ft 6 in", "-3.4 °C" or
// "R-19". It never writes "-0". A value that is not finite is written "none".
func Format(kind Kind, si float64, system System, digits int) string {
	kind.about()
	if math.IsNaN(si) || math.IsInf(si, 0) {
		return "none"
	}
	row := suits(kind, si, system)
	if row.name == "ft" {
		return feetAndInches(si, digits)
	}
	v := fixed(find(kind, row.name).fromSI(si), digits)
	switch {
	case row.name == "R" && !strings.HasPrefix(v, "-"):
		return "R-" + v
	case row.sign == "":
		return v
	case row.sign == "°":
		return v + "°"
	}
	return v + " " + row.sign
}

// Main names the main unit of a kind for a column head or an axis, such as "°C".
func Main(kind Kind, system System) string { return mainRow(kind, system).sign }

// InMain converts a value to the main unit of its kind.
func InMain(kind Kind, si float64, system System) float64 {
	return find(kind, mainRow(kind, system).name).fromSI(si)
}

// In converts a value to a unit of its kind by any of the unit's spellings.
func In(kind Kind, si float64, unit string) (float64, error) {
	e, _ := lookup(kind, unit)
	if e == nil {
		return 0, fmt.Errorf("unknown %s unit %q; known: %s", kind, unit, known(kind))
	}
	return e.fromSI(si), nil
}

// Like writes a value in the unit of an earlier quantity, ready to stand in its
// place in a document: Parse reads it back to within 1e-9 of its size. It panics
// on a value that is not finite: a document never holds one.
func Like(q Quantity, si float64) string {
	if math.IsNaN(si) || math.IsInf(si, 0) {
		panic("unit: a document value is not finite")
	}
	names := strings.Split(q.Unit, " ")
	if q.Kind.about().parts && len(names) > 1 {
		return inParts(q.Kind, si, names)
	}
	v := shortest(find(q.Kind, q.Unit).fromSI(si))
	switch {
	case q.Unit == "":
		return v
	case q.Unit == "R" && si >= 0:
		return "R-" + v
	}
	return v + " " + q.Unit
}

func inParts(kind Kind, si float64, names []string) string {
	sign, left := "", si
	if si < 0 {
		sign, left = "-", -si
	}
	// In whole steps of the last unit first, so that 12 in is carried over.
	last := find(kind, names[len(names)-1])
	steps := left * last.den / last.num
	rounded, err := strconv.ParseFloat(shortest(steps), 64)
	if err == nil {
		steps = rounded
	}
	var parts []string
	for i, name := range names {
		if i == len(names)-1 {
			parts = append(parts, shortest(steps)+" "+name)
			break
		}
		e := find(kind, name)
		size := math.Round(e.num/e.den*last.den/last.num*1e9) / 1e9
		n := math.Floor(steps / size)
		steps = math.Max(0, steps-n*size)
		parts = append(parts, shortest(n)+" "+name)
	}
	return sign + strings.Join(parts, " ")
}

func feetAndInches(si float64, digits int) string {
	sign := ""
	if si < 0 {
		sign, si = "-", -si
	}
	scale := math.Pow(10, float64(digits))
	inches := math.Round(si/inch*scale) / scale
	feet := math.Floor(inches / 12)
	return fmt.Sprintf("%s%.0f ft %.*f in", sign, feet, digits, inches-12*feet)
}

// fixed writes with so many digits after the point and never a negative zero.
func fixed(v float64, digits int) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.HasPrefix(s, "-") && !strings.ContainsAny(s, "123456789") {
		return s[1:]
	}
	return s
}

// shortest writes the fewest digits that keep a value to 1e-11 of its size.
func shortest(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil || r == 0 {
		return "0"
	}
	if a := math.Abs(r); a >= 1e15 || a < 1e-6 {
		return strconv.FormatFloat(r, 'e', -1, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func mainRow(kind Kind, system System) *shown {
	kind.about()
	for i := range shows {
		if shows[i].kind == kind && shows[i].system == system {
			return &shows[i]
		}
	}
	panic("unit: no such system")
}

// suits picks the unit for a size: the one with the largest threshold reached.
func suits(kind Kind, si float64, system System) *shown {
	best := mainRow(kind, system)
	if si == 0 {
		return best
	}
	reached := -1.0
	for i := range shows {
		s := &shows[i]
		if s.kind == kind && s.system == system && s.from > reached && math.Abs(si) >= s.from {
			best, reached = s, s.from
		}
	}
	return best
}

func find(kind Kind, name string) *entry {
	for i := range units {
		if units[i].kind == kind && units[i].name == name {
			return &units[i]
		}
	}
	panic("unit: no unit " + strconv.Quote(name) + " of this kind")
}
