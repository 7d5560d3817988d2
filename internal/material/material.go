// Package material is the library of sourced properties: building materials,
// soils by texture and moisture, snow, water and ice, vessels, surface colours,
// and the resistances of air gaps and surfaces.
//
// It promises that every row names its source and how sure it is, that a figure
// nobody looked up in print says "from memory", and that an unknown key is an
// error that lists the known ones. Names are in snake_case and sorted. Numbers
// are SI with temperatures in °C. The tables are read only.
package material

import (
	"fmt"
	"slices"
	"strings"
)

// Confidence tells how far a row can be leaned on.
type Confidence string

// High: seen in the named text. Medium: a trade page, or memory of a well-known
// standard. Low: memory or judgement alone.
const (
	High   Confidence = "high"
	Medium Confidence = "medium"
	Low    Confidence = "low"
)

// Material is one row of the library: a homogeneous solid or its effective stand-in.
type Material struct {
	Key              string
	Name             string
	ConductivityWMK  float64 // thermal conductivity as built [W/m K]
	DensityKgM3      float64 // [kg/m3]
	SpecificHeatJKgK float64 // [J/kg K]
	Note             string
	Source           string
	Confidence       Confidence
}

// VolumeHeat returns the heat capacity per volume [J/m3 K].
func (m Material) VolumeHeat() float64 { return m.DensityKgM3 * m.SpecificHeatJKgK }

// Lookup returns the material of that key. The error lists the known keys.
func Lookup(key string) (Material, error) {
	for i := range materials {
		if materials[i].Key == key {
			return materials[i], nil
		}
	}
	return Material{}, unknown("material", key, Names())
}

// Names returns the keys of all materials, sorted.
func Names() []string {
	return keys(materials[:], func(m Material) string { return m.Key })
}

func keys[T any](table []T, key func(T) string) []string {
	names := make([]string, 0, len(table))
	for _, row := range table {
		names = append(names, key(row))
	}
	slices.Sort(names)
	return names
}

func unknown(kind, key string, names []string) error {
	return fmt.Errorf("%s %q is not known, must be one of %s", kind, key, strings.Join(names, ", "))
}

// Sources that many rows share, spelled out.
const (
	physicsSheet = "Building physics key figures, data sheet 26"
	ecology      = "Berge, The Ecology of Building Materials, table 14.15"
	guideA       = "CIBSE Guide A, tables 3.36 and 3.37"
	polycarbData = "polycarbonate sheet maker's data page"
	conductivity = "trade table of thermal conductivities; ISO 10456"
	classOfISO   = "ISO 10456 class of value, from memory"
	memory       = "from memory"
	groundISO    = "ISO 13370 table 7, from memory"
)

// materials is read only.
var materials = [...]Material{
	// Wood and other plant matter.
	{"softwood", "softwood, pine or spruce, across the grain", 0.13, 480, 1600, "12 % moisture; 0.35 W/mK along the grain", ecology, High},
	{"hardwood", "hardwood, oak, across the grain", 0.17, 700, 1600, "", ecology, High},
	{"plywood", "plywood or strand board", 0.13, 550, 1700, "", classOfISO, Medium},
	{"straw_bale", "straw bale laid flat, bare", 0.065, 110, 1700, "0.05 to 0.08 by density and direction; keep dry", "Oak Ridge wall test 1998 class of value, from memory", Medium},
	{"wood_chips", "wood chips or bark mulch, damp", 0.12, 250, 1800, "", classOfISO, Low},
	{"cork_board", "expanded cork board", 0.045, 120, 1560, "", classOfISO, Medium},
	{"wood_fibre_board", "wood fibre insulating board", 0.045, 160, 2000, "", classOfISO, Medium},
	{"cellulose", "cellulose fibre, blown", 0.040, 50, 1600, "settles; keep dry", classOfISO, Medium},

	// Masonry and stone.
	{"concrete_dense", "dense or reinforced concrete", 2.3, 2400, 1000, "heat 1116 J/kgK in the data sheet, 1000 in ISO 10456", physicsSheet, High},
	{"concrete_poured", "poured plain concrete, dry", 1.5, 2200, 1000, "1.16 W/mK oven dry to 2.61 at 4 % moisture by mass", physicsSheet + "; IEA material data file", High},
	{"concrete_block_hollow", "hollow concrete block, effective", 1.1, 1400, 900, "0.17 to 0.20 m2K/W for 200 mm", "ASHRAE class of value, from memory", Medium},
	{"concrete_block_grouted", "concrete block, cores grouted", 1.7, 2200, 900, "0.12 m2K/W for 200 mm", memory, Medium},
	{"brick", "solid clay brick, dry", 0.7, 1600, 940, "0.6 to 0.8 W/mK from 1500 to 1700 kg/m3", physicsSheet, High},
	{"granite", "granite or basalt", 3.5, 2800, 940, "", physicsSheet, High},
	{"sandstone", "sandstone or limestone", 2.0, 2600, 790, "1.7 to 2.3 W/mK", physicsSheet, High},
	{"adobe", "adobe or solid clay earth, air dry", 0.95, 1700, 940, "less with fibre: 0.62 W/mK at 40 kg/m3 of straw", physicsSheet + "; " + ecology, High},
	{"rammed_earth", "rammed earth, air dry", 1.1, 2000, 1000, "0.8 to 1.3 W/mK", memory, Medium},
	{"earthbag", "earthbag, moist sandy fill", 1.2, 1700, 1100, "as compacted soil", memory, Low},
	{"mortar", "cement mortar or render", 1.0, 1800, 1000, "", classOfISO, Medium},
	{"gypsum_board", "gypsum board", 0.25, 900, 1000, "softens in damp air", classOfISO, Medium},

	// Insulation.
	{"eps", "expanded polystyrene, dry", 0.037, 20, 1450, "0.033 to 0.040 by density; add 10 to 25 % where buried and wet", conductivity, High},
	{"xps", "extruded polystyrene, dry and aged", 0.033, 35, 1450, "0.029 to 0.036 W/mK", "ASHRAE and ASCE 32 class of value, from memory", Medium},
	{"polyiso", "polyisocyanurate board, aged", 0.026, 32, 1470, "poor when wet or cold", guideA, High},
	{"mineral_wool", "mineral wool board, dry", 0.036, 100, 1030, "0.040 at 150 kg/m3", conductivity, High},
	{"glass_wool", "glass wool batt, dry", 0.040, 15, 1030, "collapses when wet", classOfISO, Medium},
	{"cellular_glass", "cellular glass", 0.048, 140, 840, "waterproof", guideA, High},
	{"foam_glass_aggregate", "foam glass aggregate, compacted", 0.09, 200, 850, "drains and insulates", classOfISO, Medium},
	{"bubble_foil", "bubble foil wrap", 0.045, 30, 1400, "claims of more depend on an enclosed air gap beside it", memory, Low},

	// Plastic, metal, glass.
	{"polycarbonate", "polycarbonate, solid", 0.20, 1200, 1200, "", polycarbData, High},
	{"acrylic", "acrylic, solid", 0.19, 1190, 1470, "", memory, Medium},
	{"hdpe", "high-density polyethylene", 0.45, 955, 1900, "drum walls and pipes", classOfISO, Medium},
	{"pvc", "polyvinyl chloride", 0.16, 1380, 1000, "", guideA, High},
	{"epdm", "pond liner rubber", 0.25, 1150, 1000, "", classOfISO, Medium},
	{"steel", "mild steel", 45, 7800, 480, "", guideA, High},
	{"aluminium", "aluminium", 230, 2700, 880, "", guideA, High},
	{"glass", "soda-lime glass", 1.05, 2500, 840, "1.0 W/mK in ISO 10456", guideA, High},

	// Ground as one number; Soil gives it by texture and moisture.
	{"ground_clay", "ground, clay or silt", 1.5, 2000, 1500, "only the product 3.0 MJ/m3K is given", groundISO, Medium},
	{"ground_sand", "ground, sand or gravel", 2.0, 2000, 1000, "only the product 2.0 MJ/m3K is given", groundISO, Medium},
	{"ground_rock", "ground, homogeneous rock", 3.5, 2500, 800, "only the product 2.0 MJ/m3K is given", groundISO, Medium},
	{"gravel", "drain rock, 20 mm, dry and loose", 0.4, 1600, 850, "porosity about 0.4", memory, Low},
	{"garden_bed", "garden bed, compost-rich loam, moist", 0.9, 1300, 1700, "", memory, Low},
	{"peat_dry", "peat, dry", 0.06, 150, 1900, "", "Farouki 1981, from memory", Low},
	{"peat_wet", "peat, saturated, unfrozen", 0.5, 1050, 3700, "1.4 to 1.8 W/mK frozen", "Farouki 1981, from memory", Low},
}
