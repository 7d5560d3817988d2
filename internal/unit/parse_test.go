package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// near compares to a relative tolerance; tol 0 wants equal bits.
func near(got, want, tol float64) bool {
	return math.Abs(got-want) <= tol*math.Max(1, math.Abs(want))
}

func TestParse(t *testing.T) {
	const sp811 = "NIST SP 811 (2008), app. B.8/B.9"
	for _, c := range []struct {
		kind   Kind
		text   string
		want   float64
		tol    float64 // relative
		unit   string
		origin string
	}{
		{Length, "3.8 m", 3.8, 0, "m", "definition"},
		{Length, "380 cm", 3.8, 0, "cm", "definition"},
		{Length, "12 ft 6 in", 3.81, 1e-15, "ft in", "150 in x 0.0254"},
		{Length, "12ft6in", 3.81, 1e-15, "ft in", "150 in x 0.0254"},
		{Length, `12' 6"`, 3.81, 1e-15, "ft in", "150 in x 0.0254"},
		{Length, `12'-6"`, 3.81, 1e-15, "ft in", "150 in x 0.0254, as drawings write it"},
		{Length, `12′ 6″`, 3.81, 1e-15, "ft in", "150 in x 0.0254"},
		{Length, "12 ft. 6 in.", 3.81, 1e-15, "ft in", "150 in x 0.0254"},
		{Length, "-12 ft 6 in", -3.81, 1e-15, "ft in", "the sign is the whole's"},
		{Length, "-0 ft 6 in", -0.1524, 1e-15, "ft in", "the sign is the whole's"},
		{Length, "−2 m", -2, 0, "m", "typographic minus"},
		{Length, "12 feet", 3.6576, 1e-15, "ft", sp811 + ": ft 3.048 E-01"},
		{Length, "5 1/2 in", 0.1397, 1e-15, "in", "5.5 x 0.0254"},
		{Length, "3/4 in", 0.01905, 1e-15, "in", "0.75 x 0.0254"},
		{Length, "2 ft 3 1/2 in", 0.6985, 1e-15, "ft in", "27.5 x 0.0254"},
		{Length, ".5 in", 0.0127, 1e-15, "in", "definition"},
		{Length, "1e3 mm", 1, 0, "mm", "definition"},
		{Length, "6 mil", 1.524e-4, 1e-15, "mil", sp811 + ": mil 2.54 E-05"},
		{Length, "1 mile", 1609.344, 0, "mi", sp811},
		{Area, "200 sq ft", 18.580608, 1e-15, "ft2", sp811 + ": ft2 9.290304 E-02"},
		{Area, "200 ft²", 18.580608, 1e-15, "ft2", sp811},
		{Area, "3 square metres", 3, 0, "m2", "definition"},
		{Volume, "900 gal", 3.4068706056, 1e-15, "gal", sp811 + ": gallon (US) 3.785412 E-03, exactly 231 in3"},
		{Volume, "1 imp_gal", 0.00454609, 1e-15, "imp_gal", sp811 + ": gallon (Imperial) 4.54609 E-03"},
		{Volume, "1 imp gal", 0.00454609, 1e-15, "imp_gal", sp811},
		{Volume, "208 L", 0.208, 0, "L", "definition"},
		{Volume, "208 litres", 0.208, 0, "L", "definition"},
		{Volume, "2 cu yd", 1.529109715968, 1e-14, "yd3", sp811 + ": yd3 7.645549 E-01"},
		{Temperature, "-40 degF", -40, 0, "degF", "the scales meet"},
		{Temperature, "-31 degF", -35, 0, "degF", "(-31-32) x 5/9"},
		{Temperature, "-9 °F", -205. / 9, 1e-15, "degF", "(-9-32) x 5/9"},
		{Temperature, "14F", -10, 0, "degF", "(14-32) x 5/9"},
		{Temperature, "-31 degC", -31, 0, "degC", "definition"},
		{Temperature, "3.4 °C", 3.4, 0, "degC", "definition"},
		{Temperature, "273.15 K", 0, 0, "K", "definition"},
		{Temperature, "-459.67 degF", -273.15, 1e-15, "degF", "absolute zero"},
		{TemperatureDifference, "9 delta_degF", 5, 0, "delta_degF", "9 x 5/9"},
		{TemperatureDifference, "5 delta_degC", 5, 0, "delta_degC", "definition"},
		{TemperatureDifference, "5 K", 5, 0, "K", "definition"},
		{DegreeHours, "72 degF h", 40, 1e-15, "degF h", "72 x 5/9"},
		{DegreeHours, "40 °C h", 40, 0, "K h", "definition"},
		{Angle, "180 deg", math.Pi, 0, "deg", "definition"},
		{Angle, "55°", 55 * math.Pi / 180, 1e-15, "deg", "definition"},
		{Angle, `39° 44' 33"`, 39.7425 * math.Pi / 180, 1e-15, "deg arcmin arcsec", "39 + 44/60 + 33/3600"},
		{Duration, "7 h", 25200, 0, "h", "definition"},
		{Duration, "30 min", 1800, 0, "min", "definition"},
		{Duration, "1 h 30 min", 5400, 0, "h min", "definition"},
		{Duration, "10 years", 3.1536e8, 0, "year", sp811 + ": year (365 days) 3.1536 E+07"},
		{Mass, "40 lb", 18.1436948, 1e-15, "lb", sp811 + ": lb 4.535924 E-01, exactly 0.45359237"},
		{Mass, "5 lb 8 oz", 2.494758035, 1e-15, "lb oz", "5.5 lb"},
		{ArealMass, "1700 g/m2", 1.7, 0, "g/m2", "definition"},
		{ArealMass, "1 lb/ft2", 4.882428, 1e-7, "lb/ft2", sp811 + ": 4.882428 E+00"},
		{Density, "1 lb/ft3", 16.01846, 4e-7, "lb/ft3", sp811 + ": 1.601846 E+01"},
		{Conductivity, "1.2 W/mK", 1.2, 0, "W/mK", "definition"},
		{Conductivity, "1.2 W/(m K)", 1.2, 0, "W/mK", "definition"},
		{Conductivity, "1.2 W/(m·K)", 1.2, 0, "W/mK", "definition"},
		{Conductivity, "1.2 W/m K", 1.2, 0, "W/mK", "definition"},
		{Conductivity, "1.2 W m-1 K-1", 1.2, 0, "W/mK", "definition"},
		{Conductivity, "1.2 W m⁻¹ K⁻¹", 1.2, 0, "W/mK", "definition"},
		{Conductivity, "1.2 watts per metre kelvin", 1.2, 0, "W/mK", "definition"},
		{Conductivity, "1.2 W/(m degC)", 1.2, 0, "W/mK", "a degree inside a compound is a step"},
		{Conductivity, "1 Btu/(h ft degF)", 1.730735, 4e-7, "Btu/(h ft degF)", sp811 + ": 1.730735 E+00"},
		{Conductivity, "1 Btu in/(h ft2 degF)", 0.1442279, 4e-7, "Btu in/(h ft2 degF)", sp811 + ": 1.442279 E-01"},
		{Resistance, "R-1", 0.1761102, 4e-7, "R", sp811 + ": 1.761102 E-01"},
		{Resistance, "R-19", 19 * 0.1761102, 4e-7, "R", sp811},
		{Resistance, "r 19", 19 * 0.1761102, 4e-7, "R", sp811},
		{Resistance, "R19", 19 * 0.1761102, 4e-7, "R", sp811},
		{Resistance, "19 h·ft²·°F/Btu", 19 * 0.1761102, 4e-7, "R", sp811},
		{Resistance, "RSI 3.3", 3.3, 0, "m2K/W", "definition"},
		{Resistance, "RSI-3.3", 3.3, 0, "m2K/W", "definition"},
		{Resistance, "3.3 m2 K/W", 3.3, 0, "m2K/W", "definition"},
		{Transmittance, "0.1 Btu/(h ft2 degF)", 0.5678263, 4e-7, "Btu/(h ft2 degF)", sp811 + ": 5.678263 E+00"},
		{Transmittance, "0.1 BTU/hr-ft2-F", 0.5678263, 4e-7, "Btu/(h ft2 degF)", sp811},
		{Transmittance, "2.8 W/m²K", 2.8, 0, "W/m2K", "definition"},
		{Conductance, "1 Btu/(h degF)", 0.5275279, 4e-7, "Btu/(h degF)", "0.29307107 x 9/5, " + sp811},
		{SpecificHeat, "1 Btu/(lb degF)", 4186.8, 0, "Btu/(lb degF)", sp811 + ": 4.1868 E+03 exact"},
		{SpecificHeat, "0.84 kJ/(kg K)", 840, 1e-15, "kJ/kgK", "definition"},
		{VolumetricHeat, "2.1 MJ/m3K", 2.1e6, 1e-15, "MJ/m3K", "definition"},
		{VolumetricHeat, "1 Btu/(ft3 degF)", 67066.11, 4e-7, "Btu/(ft3 degF)", "4186.8 x 16.01846 (SP 811)"},
		{Power, "1 Btu/h", 0.2930711, 2e-7, "Btu/h", sp811 + ": 2.930711 E-01"},
		{Power, "1 hp", 745.6999, 2e-7, "hp", sp811 + ": horsepower (550 ft lbf/s) 7.456999 E+02"},
		{Energy, "1 Btu", 1055.05585262, 0, "Btu", "International Table, exact"},
		{Energy, "12 kwh", 43.2e6, 0, "kWh", "definition"},
		{Irradiance, "1 Btu/(h ft2)", 3.154591, 4e-7, "Btu/(h ft2)", sp811 + ": 3.154591 E+00"},
		{Irradiation, "4.2 kWh/m2", 15.12e6, 1e-15, "kWh/m2", "definition"},
		{Irradiation, "1 Btu/ft2", 11356.53, 4e-7, "Btu/ft2", sp811 + ": 1.135653 E+04"},
		{Flow, "1 cfm", 4.719474e-4, 1e-10, "cfm", sp811 + ": 4.719474 E-04"},
		{Flow, "1 gpm", 6.309020e-5, 1e-11, "gpm", sp811 + ": 6.309020 E-05"},
		{Flow, "36 m3/h", 0.01, 1e-15, "m3/h", "definition"},
		{Flow, "24 L/s", 0.024, 0, "L/s", "definition"},
		{AirChanges, "0.5 ach", 0.5, 0, "ach", "definition"},
		{AirChanges, "0.5 1/h", 0.5, 0, "ach", "definition"},
		{AirChanges, "0.5 ACH", 0.5, 0, "ach", "definition"},
		{Speed, "12 mph", 5.36448, 1e-15, "mph", sp811 + ": 4.4704 E-01 exact"},
		{Speed, "1 knot", 0.5144444, 1e-7, "kn", sp811 + ": 5.144444 E-01"},
		{Pressure, "1 psi", 6894.757, 2e-7, "psi", sp811 + ": 6.894757 E+03"},
		{Pressure, "1 psf", 47.88026, 2e-7, "psf", sp811 + ": 4.788026 E+01"},
		{Pressure, "840 mbar", 84000, 0, "hPa", "definition"},
		{Extinction, "0.0196 1/mm", 19.6, 1e-15, "1/mm", "definition"},
		{Moisture, "20 %", 0.2, 0, "%", "definition"},
		{Share, "50 %", 0.5, 0, "%", "definition"},
		{Share, "0.5", 0.5, 0, "", "bare share"},
		{Share, "1", 1, 0, "", "bare share"},
		{Ratio, "1.526", 1.526, 0, "", "bare ratio"},
		{Count, "12", 12, 0, "", "bare count"},
		{DailyIrradiation, "4.2 kWh/m2", 4.2, 0, "kWh/m2d", "the kind says that it is a day's"},
		{DailyIrradiation, "4.2 kWh/m2 per day", 4.2, 0, "kWh/m2d", "words"},
		{DailyIrradiation, "18 MJ/m2d", 5, 1e-15, "MJ/m2d", "18 / 3.6"},
		{DailyIrradiation, "1000 Btu/ft2d", 3.15459074506, 1e-11, "Btu/ft2d", "1055.05585262 / (3.6 x 0.3048^2 x 1000)"},
		{AreaRatio, "3 cm2/m2", 3e-4, 1e-15, "cm2/m2", "definition"},
		{AreaRatio, "1 in2/ft2", 1. / 144, 1e-15, "in2/ft2", "definition"},
		{DailyLight, "12 mol/(m2 d)", 12, 0, "mol/m2d", "definition"},
	} {
		q, err := Parse(c.kind, c.text)
		if err != nil {
			t.Errorf("Parse(%v, %q): %v", c.kind, c.text, err)
			continue
		}
		if !near(q.SI, c.want, c.tol) || q.Unit != c.unit || q.Text != c.text || q.Kind != c.kind {
			t.Errorf("Parse(%v, %q) = %.17g %q, want %.17g %q (%s)", c.kind, c.text, q.SI, q.Unit, c.want, c.unit, c.origin)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		text   string
		column int
		what   string // part of the message
		hint   string // part of the hint
	}{
		{Length, "", 1, "nothing is written", "such as '12 ft 6 in'"},
		{Length, strings.Repeat("1 ft ", 100), 1, "500 bytes are too long for a length", ""},
		{Length, "   ", 1, "nothing is written", ""},
		{Length, "eight feet", 1, `"eight feet" is not a length`, "write a number and a unit, such as '12 ft 6 in' or '3.8 m'"},
		{Length, "3.8", 1, "3.8 has no unit; known: ft, in, m, cm, mm", "'12 ft 6 in' or '3.8 m'"},
		{Length, " 3.8", 2, "3.8 has no unit", ""},
		{Length, "32 feets", 4, `unknown length unit "feets"; known: ft, in, m, cm, mm`, `did you mean "ft"?`},
		{Length, "3.8 kg", 5, "kg is a mass, here a length is wanted", ""},
		{Length, "3,8 m", 2, "3,8 has a decimal comma", "write 3.8 with a point"},
		{Volume, "1,000 gal", 2, "1,000 has a comma", "write 1000 for thousands, or 1.000 with a point"},
		{Length, "nan m", 1, "not a finite number", ""},
		{Length, "-Inf m", 1, "not a finite number", ""},
		{Length, ".inf", 1, "not a finite number", ""},
		{Length, "0x1F m", 1, "not a decimal number", ""},
		{Length, "012 ft", 1, "octal", "leading 0"},
		{Length, "1_000 m", 2, "underscore", ""},
		{Length, "1e999 m", 1, "too large", ""},
		{Length, "1e308 km", 1, "too large", ""},
		{Length, "1e-999 m", 1, "too small", ""},
		{Length, "5. m", 2, "ends in a point", ""},
		{Length, "5.m", 2, "ends in a point", ""},
		{Length, "1/0 in", 1, "1/0 is not a number", ""},
		{Length, "6 in 12 ft", 6, "ft comes after in", "larger unit first"},
		{Length, "12 ft 14 in", 7, "14 in is not less than 1 ft", ""},
		{Length, "12 ft -6 in", 7, "sign of its own", ""},
		{Length, "12 ft 6", 8, "the last number has no unit", ""},
		{Length, "12 ft 6 inn", 9, `unknown length unit "inn"`, `did you mean "in"?`},
		{Length, "12 ft ft", 4, `unknown length unit "ft ft"`, ""},
		{Length, "3 Mm", 3, `unknown length unit "Mm"`, `did you mean "mm"?`},
		{Area, "3 m", 3, "m is a length, here an area is wanted", ""},
		{Area, "3 ft2 4 in2", 3, "unknown area unit", ""},
		{Temperature, "5 K extra", 3, "unknown temperature unit", ""},
		{Temperature, "5 delta_degF", 3, "delta_degF is a temperature difference, here a temperature is wanted", ""},
		{Length, "60 m2", 4, "m2 is an area, here a length is wanted", ""},
		{TemperatureDifference, "5 degF", 3, "level of temperature", "delta_degF"},
		{TemperatureDifference, "5 °C", 3, "level of temperature", "delta_degC"},
		{Temperature, "-300 degC", 1, "below absolute zero", ""},
		{Temperature, "-1 K", 1, "below absolute zero", ""},
		{Power, "5 mW", 3, `unknown power unit "mW"`, ""},
		{Resistance, "R-19 ft", 5, `" ft" after R-19`, "alone"},
		{Resistance, "R-", 1, `"R-" is not a thermal resistance`, "R-19"},
		{Resistance, "R-1,5", 4, "decimal comma", "1.5"},
		{Conductivity, "1.2 W/(mK", 5, "unknown conductivity unit", `did you mean "W/mK"?`},
		{Conductivity, "1.2 W/m2K", 5, "W/m2K is a thermal transmittance, here a conductivity is wanted", ""},
		{Share, "50", 1, "50 is not a share from 0 to 1", "write '50 %'"},
		{Share, "-0.1", 1, "not a share", ""},
		{Moisture, "0.2", 1, "0.2 has no unit", ""},
		{Count, "12.5", 1, "12.5 is not a whole number", ""},
		{Count, "12 m", 4, "m is a length, here a count is wanted", ""},
		{Count, "12 drums", 4, `"drums" after a count, which has no unit`, ""},
		{Length, "°9 m", 1, "is not a length", ""},
		{Length, "3\u00a0fet", 3, `unknown length unit "fet"`, `did you mean "ft"?`},
	} {
		q, err := Parse(c.kind, c.text)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("Parse(%v, %q) = %v, want an error", c.kind, c.text, q)
			continue
		}
		if e.Column != c.column || !strings.Contains(e.What, c.what) || !strings.Contains(e.Hint, c.hint) {
			t.Errorf("Parse(%v, %q): %v\nwant column %d, %q, hint %q", c.kind, c.text, e, c.column, c.what, c.hint)
		}
	}
}

func TestErrorIsOneLine(t *testing.T) {
	_, err := Parse(Length, "32 feets")
	want := `"32 feets", column 4: unknown length unit "feets"; known: ft, in, m, cm, mm, km, yd, mi, mil; hint: did you mean "ft"?`
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// Every spelling in the table is read as its own unit: none is hidden by another.
func TestEverySpellingIsRead(t *testing.T) {
	for i := range units {
		e := &units[i]
		if e.name == "" {
			continue
		}
		for _, s := range append([]string{e.name}, e.also...) {
			q, err := Parse(e.kind, "2 "+s)
			if err != nil || q.Unit != e.name || q.SI != e.toSI(2) {
				t.Errorf("%v %q: got %v, %v", e.kind, s, q, err)
			}
		}
	}
}

// Every word leads to one symbol only.
func TestWordsAreUnique(t *testing.T) {
	seen := map[string]string{}
	for _, w := range words {
		for _, o := range append([]string{w.symbol}, w.others...) {
			if before, ok := seen[o]; ok {
				t.Errorf("%q stands for %s and %s", o, before, w.symbol)
			}
			seen[o] = w.symbol
		}
	}
}

// Every kind can be written as its own example says.
func TestExamplesAreRead(t *testing.T) {
	for _, k := range Kinds() {
		parts := strings.Split(k.Example(), "'")
		found := 0
		for i := 1; i < len(parts); i += 2 {
			// A foot mark would split the example: none uses it.
			if _, err := Parse(k, parts[i]); err != nil {
				t.Errorf("%v: %v", k, err)
			}
			found++
		}
		if found == 0 || k.Suffix() == "" || len(k.Units()) == 0 {
			t.Errorf("%v has no example, suffix or unit", k)
		}
	}
}
