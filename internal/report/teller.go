package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"suncellar/internal/drawing"
	"suncellar/internal/unit"
)

// Teller tells values in the reader's units.
type Teller struct {
	System unit.System
	Width  float64 // of pictures [px]; 0: as for a page of paper
}

// NewTeller reads the name of a system of units, SI or US; "" is SI.
func NewTeller(units string) (Teller, error) {
	switch strings.ToUpper(units) {
	case "", "SI":
		return Teller{System: unit.SI}, nil
	case "US":
		return Teller{System: unit.US}, nil
	}
	return Teller{}, fmt.Errorf("units are %q, must be SI or US", units)
}

// pictures are the same units for the pictures.
func (t Teller) pictures() drawing.Units {
	if t.System == unit.US {
		return drawing.American()
	}
	return drawing.Metric()
}

// temp is a level of temperature with its unit [°C].
func (t Teller) temp(c float64) string { return unit.Format(unit.Temperature, c, t.System, 1) }

// figure is a level of temperature without its unit, for tables [°C].
func (t Teller) figure(c float64) string {
	return number(unit.InMain(unit.Temperature, c, t.System), 1)
}

// degree is the unit of temperature.
func (t Teller) degree() string { return unit.Main(unit.Temperature, t.System) }

// difference is a signed difference of temperature with its unit [K].
func (t Teller) difference(k float64) string {
	return signed(unit.InMain(unit.TemperatureDifference, k, t.System), 1) + " " + unit.Main(unit.TemperatureDifference, t.System)
}

// degreeHours is a number of degree-hours without its unit [K h].
func (t Teller) degreeHours(kh float64) string {
	return number(unit.InMain(unit.DegreeHours, kh, t.System), 0)
}

// height is a length of the house: metres to the centimetre, or feet and inches [m].
func (t Teller) height(m float64) string {
	if t.System == unit.US {
		return strings.ReplaceAll(t.pictures().Length(m), "−", "-")
	}
	return number(m, 2) + " m"
}

// depth is a short length: centimetres or inches [m].
func (t Teller) depth(m float64) string {
	if t.System == unit.US {
		return number(m/0.0254, 0) + " in"
	}
	return number(m*100, 0) + " cm"
}

// elevation is a height above the sea: whole metres or feet [m].
func (t Teller) elevation(m float64) string {
	if t.System == unit.US {
		return number(m/0.3048, 0) + " ft"
	}
	return number(m, 0) + " m"
}

func (t Teller) area(m2 float64) string { return unit.Format(unit.Area, m2, t.System, 1) }

// room is a volume of air: cubic metres or cubic feet [m³].
func (t Teller) room(m3 float64) string {
	if t.System == unit.US {
		return number(m3/math.Pow(0.3048, 3), 0) + " ft³"
	}
	return number(m3, 1) + " m³"
}

// water is a volume of water: litres or gallons [m³].
func (t Teller) water(m3 float64) string {
	if t.System == unit.US {
		return unit.Format(unit.Volume, m3, unit.US, 0)
	}
	return number(m3*1000, 0) + " L"
}

// kWh is an amount of heat without its unit, from J; both systems count heat in kWh.
func kWh(j float64) string { return number(j/3.6e6, 0) }

// number is fixed with so many decimals, never "-0"; a value that is not known is "?".
func number(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "?"
	}
	s := fmt.Sprintf("%.*f", decimals, v)
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}

// minus gives figures in pictures the true minus, as all of them have there.
func minus(s string) string { return strings.ReplaceAll(s, "-", "−") }

func signed(v float64, decimals int) string {
	s := number(v, decimals)
	if strings.HasPrefix(s, "-") || strings.Trim(s, "0.") == "" {
		return s
	}
	return "+" + s
}

// when is a day and hour in words: "11 January 07:00"; made and typical years have no year worth telling.
func when(at time.Time) string { return at.Format("2 January 15:04") }

// shortDay is "11 Jan 07 h", for tables.
func shortDay(at time.Time) string { return at.Format("2 Jan 15:04") }

// count is a number with its noun in the right number.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
