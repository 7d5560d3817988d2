package drawing

import (
	"math"
	"strconv"
	"strings"
)

// Units turns SI values into the reader's words. A field left out is as in
// Metric.
type Units struct {
	Degree     string                   // unit of temperature, "°C"
	Degrees    func(c float64) string   // figure alone, from °C: "3.4"
	Difference func(k float64) string   // signed figure alone, from K: "+2.9"
	Length     func(m float64) string   // figure and unit: "1.20 m"
	Snow       func(m float64) string   // figure and unit: "12 cm"
	Energy     func(kWh float64) string // figure and unit: "412 kWh"

	DegreeSize float64 // one degree of the reader's [K]: round figures stand at its multiples
	DegreeZero float64 // the reader's zero [°C]
	LengthUnit float64 // the reader's unit of length [m]
}

// Metric returns °C, m, cm and kWh.
func Metric() Units {
	return Units{
		Degree:     "°C",
		Degrees:    func(c float64) string { return figure(c, 1) },
		Difference: func(k float64) string { return signed(k, 1) },
		Length:     func(m float64) string { return figure(m, 2) + " m" },
		Snow:       func(m float64) string { return figure(m*100, 0) + " cm" },
		Energy:     energy,
		DegreeSize: 1, LengthUnit: 1,
	}
}

// American returns °F, ft and in; energy stays in kWh.
// Definitions: 0 °F = -160/9 °C, 1 °F = 5/9 K, 1 ft = 0.3048 m, 1 in = 0.0254 m, exactly.
func American() Units {
	return Units{
		Degree:     "°F",
		Degrees:    func(c float64) string { return figure(c*9/5+32, 1) },
		Difference: func(k float64) string { return signed(k*9/5, 1) },
		Length:     feet,
		Snow:       func(m float64) string { return figure(m/0.0254, 0) + " in" },
		Energy:     energy,
		DegreeSize: 5.0 / 9, DegreeZero: -160.0 / 9, LengthUnit: 0.3048,
	}
}

func (u Units) withDefaults() Units {
	m := Metric()
	if u.Degree == "" || u.Degrees == nil || u.Difference == nil || u.DegreeSize == 0 {
		u.Degree, u.Degrees, u.Difference = m.Degree, m.Degrees, m.Difference
		u.DegreeSize, u.DegreeZero = m.DegreeSize, m.DegreeZero
	}
	if u.Length == nil || u.LengthUnit == 0 {
		u.Length, u.LengthUnit = m.Length, m.LengthUnit
	}
	if u.Snow == nil {
		u.Snow = m.Snow
	}
	if u.Energy == nil {
		u.Energy = m.Energy
	}
	return u
}

// temp returns figure and unit of a temperature; a gap is said in words.
func (u Units) temp(c float64) string {
	if math.IsNaN(c) {
		return "no value"
	}
	return u.Degrees(c) + " " + u.Degree
}

// tick returns the figure of a round temperature, without idle decimals.
func (u Units) tick(c float64) string { return strings.TrimSuffix(u.Degrees(c), ".0") }

func (u Units) difference(k float64) string { return u.Difference(k) + " " + u.Degree }

// tempTicks returns the round temperatures of the reader within lo..hi [°C],
// at most `most` of them.
func (u Units) tempTicks(lo, hi float64, most int) []float64 {
	ts := roundTicks((lo-u.DegreeZero)/u.DegreeSize, (hi-u.DegreeZero)/u.DegreeSize, most)
	for i, t := range ts {
		ts[i] = t*u.DegreeSize + u.DegreeZero
	}
	return ts
}

// diffTicks does the same for differences [K].
func (u Units) diffTicks(lo, hi float64, most int) []float64 {
	ts := roundTicks(lo/u.DegreeSize, hi/u.DegreeSize, most)
	for i, t := range ts {
		ts[i] = t * u.DegreeSize
	}
	return ts
}

// roundTicks returns multiples of 1, 2 or 5 times a power of ten in lo..hi.
func roundTicks(lo, hi float64, most int) []float64 {
	step := roundStep((hi - lo) / float64(max(most, 1)))
	first := math.Ceil(lo/step - 1e-9)
	var ts []float64
	for i := 0.0; (first+i)*step <= hi+step*1e-9; i++ {
		ts = append(ts, (first+i)*step)
	}
	return ts
}

// roundStep returns the least of 1, 2, 5 times a power of ten that is not
// below v; 1 where v is not above 0.
func roundStep(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 1
	}
	decade := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*decade >= v*(1-1e-9) {
			return m * decade
		}
	}
	return 10 * decade
}

// figure writes a number with a true minus and never "−0".
func figure(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if !strings.HasPrefix(s, "-") {
		return s
	}
	if strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return "−" + s[1:]
}

func signed(v float64, decimals int) string {
	s := figure(v, decimals)
	if strings.HasPrefix(s, "−") || strings.Trim(s, "0.") == "" {
		return s
	}
	return "+" + s
}

func energy(kWh float64) string {
	if math.Abs(kWh) < 10 {
		return figure(kWh, 1) + " kWh"
	}
	return figure(kWh, 0) + " kWh"
}

// feet writes a length in feet and inches, to the inch.
func feet(m float64) string {
	inches := int(math.Round(m / 0.0254))
	sign := ""
	if inches < 0 {
		sign, inches = "−", -inches
	}
	switch {
	case inches == 0:
		return "0 ft"
	case inches%12 == 0:
		return sign + strconv.Itoa(inches/12) + " ft"
	case inches < 12:
		return sign + strconv.Itoa(inches) + " in"
	default:
		return sign + strconv.Itoa(inches/12) + " ft " + strconv.Itoa(inches%12) + " in"
	}
}

// trimmed takes idle zeros off a decimal number.
func trimmed(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
