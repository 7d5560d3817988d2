package plan

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"suncellar/internal/unit"
)

// measure is one row of kinds: what a kind tag means.
type measure struct {
	tag  string
	kind unit.Kind
	told string // the unit limits are told in
}

// measures lists the kind tags. Values are kept in the unit of the unit.Kind: SI, temperatures in °C, angles in
// radians, air changes in 1/h, daily irradiation in kWh/(m2 d).
var measures = [...]measure{
	{"length", unit.Length, "m"},
	{"area", unit.Area, "m2"},
	{"temperature", unit.Temperature, "degC"},
	{"temperature_difference", unit.TemperatureDifference, "K"},
	{"angle", unit.Angle, "deg"},
	{"duration", unit.Duration, "year"},
	{"time", unit.Duration, "min"},
	{"share", unit.Share, ""},
	{"number", unit.Ratio, ""},
	{"count", unit.Count, ""},
	{"ratio", unit.AreaRatio, "cm2/m2"},
	{"conductivity", unit.Conductivity, "W/mK"},
	{"resistance", unit.Resistance, "m2K/W"},
	{"transmittance", unit.Transmittance, "W/m2K"},
	{"areal_mass", unit.ArealMass, "kg/m2"},
	{"irradiance", unit.Irradiance, "W/m2"},
	{"density", unit.Density, "kg/m3"},
	{"specific_heat", unit.SpecificHeat, "J/kgK"},
	{"volumetric_heat", unit.VolumetricHeat, "MJ/m3K"},
	{"extinction", unit.Extinction, "1/m"},
	{"power", unit.Power, "W"},
	{"flow", unit.Flow, "m3/h"},
	{"water_flow", unit.Flow, "L/h"},
	{"volume", unit.Volume, "L"},
	{"air_changes", unit.AirChanges, "ach"},
	{"speed", unit.Speed, "m/s"},
	{"pressure", unit.Pressure, "Pa"},
	{"daily_irradiation", unit.DailyIrradiation, "kWh/m2d"},
}

func measureOf(tag string) *measure {
	for i := range measures {
		if measures[i].tag == tag {
			return &measures[i]
		}
	}
	panic("plan: no kind " + strconv.Quote(tag))
}

// limits are the lowest and the highest value allowed, in the unit of the kind.
type limits struct {
	lowest, highest float64
}

// limitsOf reads a range tag. Limits of angles are written in degrees there.
func limitsOf(tag string, m *measure) limits {
	l := limits{math.Inf(-1), math.Inf(1)}
	if tag == "" {
		return l
	}
	low, high, ok := strings.Cut(tag, "..")
	if !ok {
		panic("plan: range " + strconv.Quote(tag))
	}
	for _, end := range []struct {
		text string
		to   *float64
	}{{low, &l.lowest}, {high, &l.highest}} {
		if end.text == "" {
			continue
		}
		v, err := strconv.ParseFloat(end.text, 64)
		if err != nil {
			panic("plan: range " + strconv.Quote(tag))
		}
		if m.kind == unit.Angle {
			q, err := unit.Parse(unit.Angle, end.text+" deg")
			if err != nil {
				panic("plan: range " + strconv.Quote(tag))
			}
			v = q.SI
		}
		*end.to = v
	}
	return l
}

// hold tells whether a value is allowed. The limit itself written in another unit, with the twelve digits of unit.Like, is.
func (l limits) hold(v float64) bool {
	slack := func(limit float64) float64 { return 1e-11 * math.Abs(limit) }
	return !(v < l.lowest-slack(l.lowest)) && !(v > l.highest+slack(l.highest)) && !math.IsNaN(v)
}

// told writes the limits for people, in the usual unit and, where another was written, in that one too.
func (l limits) told(m *measure, q unit.Quantity) string {
	usual := l.between(func(v float64) string { return unit.Like(unit.Quantity{Kind: m.kind, Unit: m.told}, v) })
	if q.Unit == "" || q.Unit == m.told {
		return usual
	}
	return usual + " (" + l.between(func(v float64) string { return fourDigits(q, v) }) + ")"
}

// fourDigits writes a value in the unit of q, rounded to four digits: enough for a limit.
func fourDigits(q unit.Quantity, v float64) string {
	name := strings.Split(q.Unit, " ")[0]
	if m := unit.Length; q.Kind != m {
		name = q.Unit
	}
	in, err := unit.In(q.Kind, v, name)
	if err != nil {
		panic("plan: " + err.Error())
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(in, 'g', 4, 64), 64)
	number := strconv.FormatFloat(r, 'f', -1, 64)
	if name == "R" {
		return "R-" + number
	}
	return number + " " + name
}

func (l limits) between(write func(float64) string) string {
	switch {
	case math.IsInf(l.highest, 1) && math.IsInf(l.lowest, -1):
		return "any"
	case math.IsInf(l.highest, 1):
		return "from " + write(l.lowest)
	case math.IsInf(l.lowest, -1):
		return "up to " + write(l.highest)
	case l.lowest == l.highest:
		return write(l.lowest) + " only"
	}
	return write(l.lowest) + " to " + write(l.highest)
}

// trouble is what is wrong with a text, before its place is known.
type trouble struct {
	offset  int // characters into the text
	message string
	hint    string
}

// quantity reads a text of a kind and holds it to its limits.
func (f *field) quantity(text string) (unit.Quantity, *trouble) {
	q, err := unit.Parse(f.measure.kind, text)
	if err != nil {
		return q, unitTrouble(err, text)
	}
	if !f.limits.hold(q.SI) {
		return q, &trouble{0, fmt.Sprintf("%s is out of range, allowed: %s", text, f.limits.told(f.measure, q)), f.doc}
	}
	q.SI = min(max(q.SI, f.limits.lowest), f.limits.highest)
	if q.SI == 0 {
		q.SI = 0 // "-0 m" is 0 m
	}
	return q, nil
}

func unitTrouble(err error, text string) *trouble {
	bad, ok := err.(*unit.Error)
	if !ok {
		panic("plan: " + err.Error())
	}
	message := bad.What
	if !strings.Contains(message, text) {
		message = fmt.Sprintf("%q: %s", text, bad.What)
	}
	return &trouble{bad.Column - 1, message, bad.Hint}
}
