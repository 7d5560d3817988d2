package unit

// Kind says what a quantity measures, and so which units it may be written in.
// The zero Kind is none.
type Kind int

// The kinds. The bracket gives the unit of Quantity.SI.
const (
	Length                Kind = iota + 1 // [m]
	Area                                  // [m2]
	Volume                                // [m3]
	Temperature                           // a level [°C]
	TemperatureDifference                 // [K]
	DegreeHours                           // [K h]
	Angle                                 // [rad]
	Duration                              // [s]
	Mass                                  // [kg]
	ArealMass                             // [kg/m2]
	Density                               // [kg/m3]
	Conductivity                          // thermal [W/(m K)]
	Resistance                            // thermal, of an area [m2 K/W]
	Transmittance                         // thermal, of an area; also a film coefficient [W/(m2 K)]
	Conductance                           // thermal, of a whole part [W/K]
	SpecificHeat                          // [J/(kg K)]
	VolumetricHeat                        // heat capacity of a volume [J/(m3 K)]
	Power                                 // [W]
	Energy                                // [J]
	Irradiance                            // [W/m2]
	Irradiation                           // [J/m2]
	DailyIrradiation                      // mean of a day's sum [kWh/(m2 d)]
	DailyLight                            // photosynthetic light [mol/(m2 d)]
	Flow                                  // of a volume [m3/s]
	AirChanges                            // [1/h]
	Speed                                 // [m/s]
	Pressure                              // [Pa]
	Extinction                            // of light in a sheet [1/m]
	Moisture                              // water volume over soil volume [m3/m3]
	Share                                 // part of a whole [1]
	AreaRatio                             // openings over the area they lie in [m2/m2]
	Ratio                                 // pure number, any size [1]
	Count                                 // whole number of things [1]
)

// about describes one kind.
type about struct {
	name    string // with its article, as it stands in a sentence
	suffix  string // ending of a key that holds a value of this kind
	example string // how to write one
	parts   bool   // may be written in falling parts: 12 ft 6 in
	bare    bool   // may be written without a unit
}

// kinds is indexed by Kind.
var kinds = [...]about{
	Length:                {"a length", "_m", "'12 ft 6 in' or '3.8 m'", true, false},
	Area:                  {"an area", "_m2", "'200 ft2' or '18.6 m2'", false, false},
	Volume:                {"a volume", "_m3", "'55 gal' or '208 L'", false, false},
	Temperature:           {"a temperature", "_c", "'-9 degF' or '-23 degC'", false, false},
	TemperatureDifference: {"a temperature difference", "_k", "'5 delta_degF', '3 delta_degC' or '3 K'", false, false},
	DegreeHours:           {"a number of degree-hours", "_kh", "'40 K h' or '72 degF h'", false, false},
	Angle:                 {"an angle", "_rad", "'55 deg' or '0.96 rad'", true, false},
	Duration:              {"a time", "_s", "'7 h' or '30 min'", true, false},
	Mass:                  {"a mass", "_kg", "'40 lb' or '18 kg'", true, false},
	ArealMass:             {"a mass per area", "_kg_m2", "'1.7 kg/m2' or '0.35 lb/ft2'", false, false},
	Density:               {"a density", "_kg_m3", "'110 lb/ft3' or '1760 kg/m3'", false, false},
	Conductivity:          {"a conductivity", "_w_mk", "'1.2 W/mK' or '0.69 Btu/(h ft degF)'", false, false},
	Resistance:            {"a thermal resistance", "_m2k_w", "'R-19' or '3.3 m2K/W'", false, false},
	Transmittance:         {"a thermal transmittance", "_w_m2k", "'0.5 Btu/(h ft2 degF)' or '2.8 W/m2K'", false, false},
	Conductance:           {"a conductance", "_w_k", "'60 W/K' or '114 Btu/(h degF)'", false, false},
	SpecificHeat:          {"a specific heat", "_j_kgk", "'840 J/kgK' or '0.2 Btu/(lb degF)'", false, false},
	VolumetricHeat:        {"a volumetric heat capacity", "_j_m3k", "'2.1 MJ/m3K' or '31 Btu/(ft3 degF)'", false, false},
	Power:                 {"a power", "_w", "'40 W' or '5000 Btu/h'", false, false},
	Energy:                {"an energy", "_j", "'12 kWh' or '40000 Btu'", false, false},
	Irradiance:            {"an irradiance", "_w_m2", "'800 W/m2' or '250 Btu/(h ft2)'", false, false},
	Irradiation:           {"an irradiation", "_j_m2", "'4.2 kWh/m2' or '1300 Btu/ft2'", false, false},
	DailyIrradiation:      {"a daily irradiation", "_kwh_m2d", "'4.2 kWh/m2d' or '15 MJ/m2d'", false, false},
	DailyLight:            {"a daily light sum", "_mol_m2d", "'12 mol/m2d'", false, false},
	Flow:                  {"a flow", "_m3_s", "'50 cfm', '85 m3/h' or '24 L/s'", false, false},
	AirChanges:            {"an air change rate", "_ach", "'0.5 ach' or '0.5 1/h'", false, false},
	Speed:                 {"a speed", "_m_s", "'12 mph' or '5.4 m/s'", false, false},
	Pressure:              {"a pressure", "_pa", "'30 psf' or '1.4 kPa'", false, false},
	Extinction:            {"an extinction coefficient", "_per_m", "'19.6 1/m' or '0.0196 1/mm'", false, false},
	Moisture:              {"a moisture by volume", "_m3_m3", "'20 %' or '0.2 m3/m3'", false, false},
	Share:                 {"a share", "_share", "'50 %' or '0.5'", false, true},
	AreaRatio:             {"a ratio of areas", "_m2_m2", "'3 cm2/m2' or '0.04 in2/ft2'", false, false},
	Ratio:                 {"a ratio", "_ratio", "'1.526'", false, true},
	Count:                 {"a count", "_count", "'12'", false, true},
}

// Kinds lists every kind, in the order of declaration.
func Kinds() []Kind {
	list := make([]Kind, 0, len(kinds)-1)
	for k := Length; int(k) < len(kinds); k++ {
		list = append(list, k)
	}
	return list
}

func (k Kind) about() about {
	if k < Length || int(k) >= len(kinds) {
		panic("unit: no such kind")
	}
	return kinds[k]
}

// String names the kind without an article, such as "length".
func (k Kind) String() string { return bareNoun(k.about().name) }

// Suffix is the ending of a key that holds a value of this kind, such as "_m".
func (k Kind) Suffix() string { return k.about().suffix }

// Example says how to write a value of this kind, such as "'12 ft 6 in' or '3.8 m'".
func (k Kind) Example() string { return k.about().example }

// Units lists the names of the units this kind may be written in, commonest first.
func (k Kind) Units() []string {
	k.about()
	var names []string
	for i := range units {
		if units[i].kind == k {
			names = append(names, units[i].name)
		}
	}
	return names
}

func bareNoun(name string) string {
	for i := range name {
		if name[i] == ' ' {
			return name[i+1:]
		}
	}
	return name
}
