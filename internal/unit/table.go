package unit

// entry is one unit: value in SI = (written - zero) * num / den.
// The quotient keeps decimal units exact: 380 cm is 380*1/100 = 3.8 m.
type entry struct {
	kind     Kind
	name     string   // the spelling we write
	num, den float64  // SI units in one of this unit
	zero     float64  // reading of this unit at SI zero
	also     []string // further spellings; those that differ only by words are in words
}

// Definitions, exact. Source: NIST SP 811 (2008), appendix B.8 and B.9.
const (
	foot     = 0.3048                    // [m]
	inch     = 0.0254                    // [m]
	pound    = 0.45359237                // avoirdupois [kg]
	gravity  = 9.80665                   // standard [m/s2]
	btu      = 1055.05585262             // International Table [J]
	gallon   = 231 * inch * inch * inch  // US liquid [m3]
	poundF   = pound * gravity           // pound-force [N]
	psi      = poundF / (inch * inch)    // [Pa]
	hour     = 3600.0                    // [s]
	day      = 86400.0                   // [s]
	halfTurn = 3.14159265358979323846264 // pi [rad]
)

func (e *entry) toSI(v float64) float64    { return (v - e.zero) * e.num / e.den }
func (e *entry) fromSI(si float64) float64 { return si*e.den/e.num + e.zero }

// units is the one table. Order within a kind is the order errors list them in.
var units = [...]entry{
	{kind: Length, name: "ft", num: foot, den: 1, also: []string{"'"}},
	{kind: Length, name: "in", num: inch, den: 1, also: []string{`"`}},
	{kind: Length, name: "m", num: 1, den: 1},
	{kind: Length, name: "cm", num: 1, den: 100},
	{kind: Length, name: "mm", num: 1, den: 1000},
	{kind: Length, name: "km", num: 1000, den: 1},
	{kind: Length, name: "yd", num: 0.9144, den: 1},
	{kind: Length, name: "mi", num: 1609.344, den: 1},
	{kind: Length, name: "mil", num: inch, den: 1000},

	{kind: Area, name: "ft2", num: foot * foot, den: 1},
	{kind: Area, name: "m2", num: 1, den: 1},
	{kind: Area, name: "in2", num: inch * inch, den: 1},
	{kind: Area, name: "cm2", num: 1, den: 1e4},
	{kind: Area, name: "mm2", num: 1, den: 1e6},
	{kind: Area, name: "yd2", num: 0.9144 * 0.9144, den: 1},
	{kind: Area, name: "ha", num: 1e4, den: 1},

	{kind: Volume, name: "gal", num: gallon, den: 1, also: []string{"US gal", "gal_us", "us_gal"}},
	{kind: Volume, name: "L", num: 1, den: 1000},
	{kind: Volume, name: "m3", num: 1, den: 1},
	{kind: Volume, name: "ft3", num: foot * foot * foot, den: 1},
	{kind: Volume, name: "imp_gal", num: 4.54609, den: 1000, also: []string{"imp gal", "UK gal", "uk_gal", "gal_imp"}},
	{kind: Volume, name: "qt", num: gallon, den: 4},
	{kind: Volume, name: "mL", num: 1, den: 1e6, also: []string{"ml"}},
	{kind: Volume, name: "yd3", num: 0.9144 * 0.9144 * 0.9144, den: 1},
	{kind: Volume, name: "in3", num: inch * inch * inch, den: 1},
	{kind: Volume, name: "cm3", num: 1, den: 1e6},

	{kind: Temperature, name: "degF", num: 5, den: 9, zero: 32, also: []string{"deg F", "degrees F"}},
	{kind: Temperature, name: "degC", num: 1, den: 1, also: []string{"deg C", "degrees C"}},
	{kind: Temperature, name: "K", num: 1, den: 1, zero: 273.15},

	{kind: TemperatureDifference, name: "K", num: 1, den: 1},
	{kind: TemperatureDifference, name: "delta_degC", num: 1, den: 1},
	{kind: TemperatureDifference, name: "delta_degF", num: 5, den: 9},

	{kind: DegreeHours, name: "K h", num: 1, den: 1, also: []string{"Kh"}},
	{kind: DegreeHours, name: "degF h", num: 5, den: 9},
	{kind: DegreeHours, name: "K d", num: 24, den: 1, also: []string{"Kd"}},
	{kind: DegreeHours, name: "degF d", num: 24 * 5, den: 9},

	{kind: Angle, name: "deg", num: halfTurn, den: 180, also: []string{"degree", "degrees"}},
	{kind: Angle, name: "rad", num: 1, den: 1},
	{kind: Angle, name: "arcmin", num: halfTurn, den: 180 * 60, also: []string{"'"}},
	{kind: Angle, name: "arcsec", num: halfTurn, den: 180 * 3600, also: []string{`"`}},

	{kind: Duration, name: "h", num: hour, den: 1},
	{kind: Duration, name: "min", num: 60, den: 1},
	{kind: Duration, name: "s", num: 1, den: 1},
	{kind: Duration, name: "d", num: day, den: 1},
	{kind: Duration, name: "week", num: 7 * day, den: 1},
	{kind: Duration, name: "year", num: 365 * day, den: 1}, // SP 811 "year (365 days)"

	{kind: Mass, name: "lb", num: pound, den: 1},
	{kind: Mass, name: "kg", num: 1, den: 1},
	{kind: Mass, name: "oz", num: pound, den: 16},
	{kind: Mass, name: "g", num: 1, den: 1000},
	{kind: Mass, name: "t", num: 1000, den: 1},
	{kind: Mass, name: "short_ton", num: 2000 * pound, den: 1, also: []string{"short ton"}},

	{kind: ArealMass, name: "kg/m2", num: 1, den: 1},
	{kind: ArealMass, name: "g/m2", num: 1, den: 1000},
	{kind: ArealMass, name: "lb/ft2", num: pound, den: foot * foot},
	{kind: ArealMass, name: "oz/ft2", num: pound, den: 16 * foot * foot},
	{kind: ArealMass, name: "oz/yd2", num: pound, den: 16 * 0.9144 * 0.9144},

	{kind: Density, name: "lb/ft3", num: pound, den: foot * foot * foot, also: []string{"pcf"}},
	{kind: Density, name: "kg/m3", num: 1, den: 1},
	{kind: Density, name: "g/cm3", num: 1000, den: 1},
	{kind: Density, name: "kg/L", num: 1000, den: 1},

	{kind: Conductivity, name: "W/mK", num: 1, den: 1, also: []string{"W/(m K)"}},
	{kind: Conductivity, name: "Btu/(h ft degF)", num: btu * 9, den: hour * foot * 5},
	{kind: Conductivity, name: "Btu in/(h ft2 degF)", num: btu * inch * 9, den: hour * foot * foot * 5},

	{kind: Resistance, name: "R", num: hour * foot * foot * 5, den: btu * 9, also: []string{"h ft2 degF/Btu"}},
	{kind: Resistance, name: "m2K/W", num: 1, den: 1, also: []string{"m2 K/W", "RSI"}},

	{kind: Transmittance, name: "W/m2K", num: 1, den: 1, also: []string{"W/(m2 K)"}},
	{kind: Transmittance, name: "Btu/(h ft2 degF)", num: btu * 9, den: hour * foot * foot * 5},

	{kind: Conductance, name: "W/K", num: 1, den: 1},
	{kind: Conductance, name: "Btu/(h degF)", num: btu * 9, den: hour * 5},

	{kind: SpecificHeat, name: "J/kgK", num: 1, den: 1, also: []string{"J/(kg K)"}},
	{kind: SpecificHeat, name: "kJ/kgK", num: 1000, den: 1, also: []string{"kJ/(kg K)"}},
	{kind: SpecificHeat, name: "Wh/kgK", num: 3600, den: 1, also: []string{"Wh/(kg K)"}},
	{kind: SpecificHeat, name: "Btu/(lb degF)", num: 4186.8, den: 1},

	{kind: VolumetricHeat, name: "MJ/m3K", num: 1e6, den: 1, also: []string{"MJ/(m3 K)"}},
	{kind: VolumetricHeat, name: "kJ/m3K", num: 1000, den: 1, also: []string{"kJ/(m3 K)"}},
	{kind: VolumetricHeat, name: "J/m3K", num: 1, den: 1, also: []string{"J/(m3 K)"}},
	{kind: VolumetricHeat, name: "Btu/(ft3 degF)", num: btu * 9, den: foot * foot * foot * 5},

	{kind: Power, name: "W", num: 1, den: 1},
	{kind: Power, name: "kW", num: 1000, den: 1},
	{kind: Power, name: "MW", num: 1e6, den: 1},
	{kind: Power, name: "Btu/h", num: btu, den: hour, also: []string{"btuh"}},
	{kind: Power, name: "hp", num: 550 * foot * poundF, den: 1},

	{kind: Energy, name: "kWh", num: 3.6e6, den: 1},
	{kind: Energy, name: "Wh", num: 3600, den: 1},
	{kind: Energy, name: "MWh", num: 3.6e9, den: 1},
	{kind: Energy, name: "J", num: 1, den: 1},
	{kind: Energy, name: "kJ", num: 1000, den: 1},
	{kind: Energy, name: "MJ", num: 1e6, den: 1},
	{kind: Energy, name: "GJ", num: 1e9, den: 1},
	{kind: Energy, name: "Btu", num: btu, den: 1},
	{kind: Energy, name: "kBtu", num: 1000 * btu, den: 1},

	{kind: Irradiance, name: "W/m2", num: 1, den: 1},
	{kind: Irradiance, name: "kW/m2", num: 1000, den: 1},
	{kind: Irradiance, name: "Btu/(h ft2)", num: btu, den: hour * foot * foot},

	{kind: Irradiation, name: "kWh/m2", num: 3.6e6, den: 1},
	{kind: Irradiation, name: "Wh/m2", num: 3600, den: 1},
	{kind: Irradiation, name: "MJ/m2", num: 1e6, den: 1},
	{kind: Irradiation, name: "kJ/m2", num: 1000, den: 1},
	{kind: Irradiation, name: "J/m2", num: 1, den: 1},
	{kind: Irradiation, name: "Btu/ft2", num: btu, den: foot * foot},

	{kind: DailyIrradiation, name: "kWh/m2d", num: 1, den: 1, also: []string{"kWh/(m2 d)", "kWh/m2"}},
	{kind: DailyIrradiation, name: "Wh/m2d", num: 1, den: 1000, also: []string{"Wh/(m2 d)", "Wh/m2"}},
	{kind: DailyIrradiation, name: "MJ/m2d", num: 1, den: 3.6, also: []string{"MJ/(m2 d)", "MJ/m2"}},
	{kind: DailyIrradiation, name: "Btu/ft2d", num: btu, den: 3.6e6 * foot * foot, also: []string{"Btu/(ft2 d)", "Btu/ft2"}},

	{kind: DailyLight, name: "mol/m2d", num: 1, den: 1, also: []string{"mol/(m2 d)"}},

	{kind: Flow, name: "cfm", num: foot * foot * foot, den: 60, also: []string{"ft3/min"}},
	{kind: Flow, name: "m3/h", num: 1, den: hour},
	{kind: Flow, name: "L/s", num: 1, den: 1000},
	{kind: Flow, name: "m3/s", num: 1, den: 1},
	{kind: Flow, name: "L/min", num: 1, den: 60000},
	{kind: Flow, name: "L/h", num: 1, den: 1000 * hour},
	{kind: Flow, name: "gpm", num: gallon, den: 60, also: []string{"gal/min"}},
	{kind: Flow, name: "gph", num: gallon, den: hour, also: []string{"gal/h"}},

	{kind: AirChanges, name: "ach", num: 1, den: 1, also: []string{"1/h"}},

	{kind: Speed, name: "mph", num: 1609.344, den: hour, also: []string{"mi/h"}},
	{kind: Speed, name: "m/s", num: 1, den: 1},
	{kind: Speed, name: "km/h", num: 1000, den: hour, also: []string{"kmh", "kph"}},
	{kind: Speed, name: "ft/min", num: foot, den: 60, also: []string{"fpm"}},
	{kind: Speed, name: "ft/s", num: foot, den: 1, also: []string{"fps"}},
	{kind: Speed, name: "kn", num: 1852, den: hour, also: []string{"knot", "knots"}},
	{kind: Speed, name: "mm/h", num: 1, den: 1000 * hour},
	{kind: Speed, name: "in/h", num: inch, den: hour},

	{kind: Pressure, name: "psf", num: poundF, den: foot * foot, also: []string{"lbf/ft2"}},
	{kind: Pressure, name: "psi", num: psi, den: 1, also: []string{"lbf/in2"}},
	{kind: Pressure, name: "Pa", num: 1, den: 1},
	{kind: Pressure, name: "kPa", num: 1000, den: 1, also: []string{"kN/m2"}},
	{kind: Pressure, name: "hPa", num: 100, den: 1, also: []string{"mbar"}},
	{kind: Pressure, name: "bar", num: 1e5, den: 1},
	{kind: Pressure, name: "atm", num: 101325, den: 1},
	{kind: Pressure, name: "inHg", num: 3386.389, den: 1},  // SP 811 "inch of mercury, conventional"
	{kind: Pressure, name: "inH2O", num: 249.0889, den: 1}, // SP 811 "inch of water, conventional"
	{kind: Pressure, name: "mmHg", num: 133.3224, den: 1},  // SP 811 "millimeter of mercury, conventional"

	{kind: Extinction, name: "1/m", num: 1, den: 1},
	{kind: Extinction, name: "1/mm", num: 1000, den: 1},
	{kind: Extinction, name: "1/cm", num: 100, den: 1},
	{kind: Extinction, name: "1/in", num: 1, den: inch},

	{kind: Moisture, name: "%", num: 1, den: 100},
	{kind: Moisture, name: "m3/m3", num: 1, den: 1},

	{kind: Share, name: "%", num: 1, den: 100},
	{kind: Share, name: "", num: 1, den: 1},
	{kind: AreaRatio, name: "cm2/m2", num: 1, den: 1e4},
	{kind: AreaRatio, name: "in2/ft2", num: inch * inch, den: foot * foot},
	{kind: AreaRatio, name: "mm2/m2", num: 1, den: 1e6},
	{kind: AreaRatio, name: "m2/m2", num: 1, den: 1},

	{kind: Ratio, name: "", num: 1, den: 1},
	{kind: Count, name: "", num: 1, den: 1},
}

// word is one unit symbol and the other ways people write it. Words of three
// letters and more are found in any case; shorter ones only as listed, so that
// m and M, mW and MW never meet.
type word struct {
	symbol string
	others []string
}

var words = [...]word{
	{"ft", []string{"foot", "feet", "Ft", "FT"}},
	{"in", []string{"inch", "inches", "In", "IN"}},
	{"yd", []string{"yard", "yards", "yds", "YD"}},
	{"mi", []string{"mile", "miles"}},
	{"mil", []string{"mils"}},
	{"m", []string{"metre", "metres", "meter", "meters"}},
	{"cm", []string{"centimetre", "centimetres", "centimeter", "centimeters", "CM"}},
	{"mm", []string{"millimetre", "millimetres", "millimeter", "millimeters", "MM"}},
	{"km", []string{"kilometre", "kilometres", "kilometer", "kilometers"}},
	{"ft2", []string{"sqft", "sf", "SF"}},
	{"m2", []string{"sqm"}},
	{"ft3", []string{"cuft", "cf"}},
	{"ha", []string{"hectare", "hectares"}},
	{"L", []string{"l", "litre", "litres", "liter", "liters"}},
	{"gal", []string{"gallon", "gallons", "gals"}},
	{"qt", []string{"quart", "quarts"}},
	{"imp_gal", nil},
	{"degF", []string{"F", "fahrenheit"}},
	{"degC", []string{"C", "celsius"}},
	{"K", []string{"kelvin"}},
	{"delta_degF", []string{"delta_F"}},
	{"delta_degC", []string{"delta_C"}},
	{"rad", []string{"radian", "radians"}},
	{"h", []string{"hr", "hrs", "hour", "hours"}},
	{"min", []string{"minute", "minutes", "mins"}},
	{"s", []string{"sec", "secs", "second", "seconds"}},
	{"d", []string{"day", "days"}},
	{"week", []string{"weeks", "wk"}},
	{"year", []string{"years", "yr", "yrs"}},
	{"lb", []string{"lbs", "pound", "pounds", "LB", "Lb"}},
	{"kg", []string{"kilogram", "kilograms", "KG", "Kg"}},
	{"oz", []string{"ounce", "ounces", "OZ"}},
	{"g", []string{"gram", "grams"}},
	{"t", []string{"tonne", "tonnes"}},
	{"Btu", []string{"btus"}},
	{"kBtu", nil},
	{"W", []string{"watt", "watts"}},
	{"kW", []string{"kw", "KW", "kilowatt", "kilowatts"}},
	{"kWh", nil},
	{"Wh", nil},
	{"J", []string{"joule", "joules"}},
	{"hp", []string{"HP", "horsepower"}},
	{"cfm", nil},
	{"gpm", nil},
	{"gph", nil},
	{"ach", nil},
	{"mph", nil},
	{"fpm", nil},
	{"psf", nil},
	{"psi", nil},
	{"kPa", []string{"kilopascal", "kilopascals"}},
	{"hPa", nil},
	{"Pa", []string{"pascal", "pascals"}},
	{"mbar", []string{"mb", "millibar", "millibars"}},
	{"inHg", nil},
	{"inH2O", []string{"inwc"}},
	{"mmHg", nil},
	{"%", []string{"percent", "pct"}},
}
