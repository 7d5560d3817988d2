package glazing

import (
	"fmt"
	"slices"
	"strings"
)

// Product is a glazing of the library: its stack, and the published figures that
// the stack was matched to or is compared with.
type Product struct {
	Key                 string
	Name                string
	Stack               Stack
	NormalTransmittance float64 // published, of the whole of sunlight at normal incidence
	// PARRatio is the published normal transmittance of plant light (400 to 700 nm)
	// over that of the whole of sunlight.
	PARRatio float64
	// PublishedU is the maker's [W/m2 K]; where makers differ, the higher, which is the colder house.
	PublishedU    float64
	AgeingPerYear float64 // share of its light lost in a year
	LifeYears     float64
	MassKgM2      float64
	Source        string
	Confidence    string // high, medium or low
	Note          string
}

// substance is what sheets are made of.
type substance struct {
	index, conductivity, emittance, density, heat float64
}

// Glass: index and emittance as in ASHRAE Fundamentals 2017 ch. 15; polycarbonate index
// 1.586, maker's data; the rest from memory.
func glass() substance         { return substance{1.526, 1.0, 0.84, 2500, 840} }
func polycarbonate() substance { return substance{1.586, 0.20, 0.90, 1200, 1200} }
func acrylic() substance       { return substance{1.49, 0.19, 0.90, 1190, 1470} }
func polyethylene() substance  { return substance{1.515, 0.33, 0.90, 920, 2200} }
func etfe() substance          { return substance{1.40, 0.24, 0.85, 1740, 1100} }
func fibreglass() substance    { return substance{1.54, 0.20, 0.90, 1500, 1200} }

// entry is a row of the library before it is matched.
type entry struct {
	key, name          string
	of                 func() substance
	walls              int
	thick, wall        float64 // overall and of one wall [mm]
	solar, par, u      float64
	longwave           float64
	ageing, life, mass float64
	source, confidence string
	coating            float64 // emittance of the coated face in the first gap, 0 for none
	gas                Gas
	note               string
}

const (
	sheetPages = "three polycarbonate sheet makers' data pages; the whole of sunlight from memory"
	cropGlass  = "greenhouse glazing makers' texts; U of ISO 10077, from memory"
	filmTexts  = "extension text on glazings and a trade text on film plastics; rest from memory (NRAES-33)"
	memory     = "from memory"
	filmNote   = "the figure is that of a film wet with condensate; dry it is 6.3 to 6.8, for longwave passes it: that is exchanged by the room"
	doubleNote = "the conductance beside the gap stands for longwave that passes the films"
)

// entries is read only.
var entries = [...]entry{
	{key: "single_glass_4mm", name: "single glass, 4 mm", of: glass, walls: 1, thick: 4, wall: 4, solar: 0.84, par: 0.89, u: 5.8, life: 35, mass: 10, source: cropGlass, confidence: "high"},
	{key: "single_glass_3mm", name: "horticultural glass, 3 mm", of: glass, walls: 1, thick: 3, wall: 3, solar: 0.85, par: 0.89, u: 5.8, life: 35, mass: 7.5, source: cropGlass, confidence: "high"},
	{key: "low_iron_glass_4mm", name: "low-iron glass, 4 mm", of: glass, walls: 1, thick: 4, wall: 4, solar: 0.895, par: 0.91, u: 5.8, life: 35, mass: 10, source: memory, confidence: "medium"},
	{key: "double_glass", name: "double glass, 3/12/3 mm, air", of: glass, walls: 2, thick: 18, wall: 3, solar: 0.72, par: 0.785, u: 2.9, life: 20, mass: 15, source: cropGlass, confidence: "high"},
	{key: "double_glass_coated", name: "double glass, 4/16/4 mm, low emittance, argon", of: glass, walls: 2, thick: 24, wall: 4, solar: 0.55, par: 0.74, u: 1.2, life: 20, mass: 20, source: memory, confidence: "medium", coating: 0.05, gas: Argon90, note: "the coating's reflection is taken as absorption in both panes"},
	{key: "twin_wall_4mm", name: "twin-wall polycarbonate, 4 mm", of: polycarbonate, walls: 2, thick: 4, solar: 0.80, par: 0.82, u: 4.1, longwave: 0.02, ageing: 0.008, life: 12, mass: 0.8, source: sheetPages, confidence: "high"},
	{key: "twin_wall_6mm", name: "twin-wall polycarbonate, 6 mm", of: polycarbonate, walls: 2, thick: 6, solar: 0.78, par: 0.80, u: 3.6, longwave: 0.02, ageing: 0.008, life: 12, mass: 1.3, source: sheetPages, confidence: "high"},
	{key: "twin_wall_8mm", name: "twin-wall polycarbonate, 8 mm", of: polycarbonate, walls: 2, thick: 8, solar: 0.78, par: 0.80, u: 3.4, longwave: 0.02, ageing: 0.008, life: 15, mass: 1.5, source: sheetPages, confidence: "high"},
	{key: "twin_wall_10mm", name: "twin-wall polycarbonate, 10 mm", of: polycarbonate, walls: 2, thick: 10, solar: 0.77, par: 0.795, u: 3.2, longwave: 0.02, ageing: 0.008, life: 15, mass: 1.7, source: sheetPages, confidence: "high"},
	{key: "triple_wall_8mm", name: "triple-wall polycarbonate, 8 mm", of: polycarbonate, walls: 3, thick: 8, solar: 0.70, par: 0.72, u: 3.2, longwave: 0.02, ageing: 0.008, life: 15, mass: 1.6, source: sheetPages, confidence: "high"},
	{key: "triple_wall_10mm", name: "triple-wall polycarbonate, 10 mm", of: polycarbonate, walls: 3, thick: 10, solar: 0.70, par: 0.72, u: 2.7, longwave: 0.02, ageing: 0.008, life: 15, mass: 2.0, source: sheetPages, confidence: "high"},
	{key: "triple_wall_16mm", name: "triple-wall polycarbonate, 16 mm", of: polycarbonate, walls: 3, thick: 16, solar: 0.70, par: 0.73, u: 2.4, longwave: 0.02, ageing: 0.008, life: 15, mass: 2.7, source: sheetPages, confidence: "high"},
	{key: "x_wall_16mm", name: "polycarbonate with crossed webs, 16 mm", of: polycarbonate, walls: 4, thick: 16, solar: 0.57, par: 0.59, u: 2.2, longwave: 0.02, ageing: 0.008, life: 15, mass: 2.6, source: sheetPages + "; U from memory", confidence: "medium", note: "three walls and crossed webs stand as four sheets"},
	{key: "five_wall_16mm", name: "five-wall polycarbonate, 16 mm", of: polycarbonate, walls: 5, thick: 16, solar: 0.60, par: 0.635, u: 1.9, longwave: 0.02, ageing: 0.008, life: 15, mass: 2.8, source: "trade page of R-values", confidence: "medium"},
	{key: "five_wall_25mm", name: "five-wall polycarbonate, 25 mm", of: polycarbonate, walls: 5, thick: 25, solar: 0.50, par: 0.55, u: 1.6, longwave: 0.02, ageing: 0.008, life: 15, mass: 3.4, source: "greenhouse maker's glazing page and a sheet maker's data page; mass from memory", confidence: "high"},
	{key: "nine_wall_32mm", name: "nine-wall polycarbonate, 32 mm", of: polycarbonate, walls: 9, thick: 32, solar: 0.42, par: 0.45, u: 1.18, longwave: 0.02, ageing: 0.008, life: 15, mass: 3.8, source: "sheet maker's data page for U; rest from memory", confidence: "medium"},
	{key: "single_polycarbonate", name: "single polycarbonate, flat or corrugated, 1 mm", of: polycarbonate, walls: 1, thick: 1, wall: 1, solar: 0.85, par: 0.89, u: 5.7, longwave: 0.02, ageing: 0.01, life: 12, mass: 1.2, source: sheetPages + "; U from memory", confidence: "medium"},
	{key: "acrylic_3mm", name: "acrylic, 3 mm", of: acrylic, walls: 1, thick: 3, wall: 3, solar: 0.90, par: 0.92, u: 5.5, longwave: 0.02, ageing: 0.003, life: 25, mass: 3.6, source: memory, confidence: "medium"},
	{key: "twin_wall_acrylic_16mm", name: "twin-wall acrylic, 16 mm", of: acrylic, walls: 2, thick: 16, wall: 1.75, solar: 0.83, par: 0.86, u: 2.8, longwave: 0.02, ageing: 0.004, life: 25, mass: 5.0, source: memory, confidence: "medium"},
	{key: "single_film", name: "polyethylene film, 0.2 mm", of: polyethylene, walls: 1, thick: 0.2, wall: 0.2, solar: 0.865, par: 0.885, u: 6.0, longwave: 0.75, ageing: 0.04, life: 4, mass: 0.18, source: filmTexts, confidence: "medium", note: filmNote},
	{key: "single_film_ir", name: "polyethylene film that stops longwave, 0.2 mm", of: polyethylene, walls: 1, thick: 0.2, wall: 0.2, solar: 0.845, par: 0.865, u: 5.7, longwave: 0.30, ageing: 0.04, life: 4, mass: 0.18, source: filmTexts, confidence: "medium"},
	{key: "double_film", name: "polyethylene film, two, inflated", of: polyethylene, walls: 2, thick: 80, wall: 0.15, solar: 0.76, par: 0.775, u: 3.7, longwave: 0.75, ageing: 0.04, life: 4, mass: 0.36, source: filmTexts, confidence: "high", note: doubleNote},
	{key: "double_film_ir", name: "polyethylene film, two, inflated, inner stops longwave", of: polyethylene, walls: 2, thick: 80, wall: 0.15, solar: 0.74, par: 0.75, u: 3.1, longwave: 0.45, ageing: 0.04, life: 4, mass: 0.36, source: "from memory (NRAES-33)", confidence: "medium", note: doubleNote},
	{key: "etfe_film", name: "ETFE film, 0.15 mm", of: etfe, walls: 1, thick: 0.15, wall: 0.15, solar: 0.92, par: 0.93, u: 6.0, longwave: 0.25, ageing: 0.003, life: 25, mass: 0.25, source: memory, confidence: "low"},
	{key: "fibreglass_1mm", name: "fibreglass sheet, 1 mm", of: fibreglass, walls: 1, thick: 1, wall: 1, solar: 0.815, par: 0.84, u: 5.7, longwave: 0.07, ageing: 0.025, life: 9, mass: 1.5, source: "greenhouse glazing makers' texts; figures from memory", confidence: "medium"},
}

// Lookup returns the glazing of that key. The error lists the known keys.
func Lookup(key string) (Product, error) {
	for i := range entries {
		if entries[i].key == key {
			return entries[i].product(), nil
		}
	}
	return Product{}, fmt.Errorf("glazing %q is not known, must be one of %s", key, strings.Join(Names(), ", "))
}

// Names returns the keys of the library, sorted.
func Names() []string {
	names := make([]string, 0, len(entries))
	for i := range entries {
		names = append(names, entries[i].key)
	}
	slices.Sort(names)
	return names
}

// product builds the equivalent stack: equal walls, equal gaps, extinction to meet
// the normal transmittance, conductance beside the gaps to meet U.
func (e *entry) product() Product {
	s, err := e.stack().withTransmittance(e.solar)
	if err != nil {
		panic("glazing: library row " + e.key + ": " + err.Error())
	}
	return Product{
		Key: e.key, Name: e.name, Stack: s.withU(e.u),
		NormalTransmittance: e.solar, PARRatio: e.par / e.solar, PublishedU: e.u,
		AgeingPerYear: e.ageing, LifeYears: e.life, MassKgM2: e.mass,
		Source: e.source, Confidence: e.confidence, Note: e.note,
	}
}

func (e *entry) stack() Stack {
	of := e.of()
	wall := e.wall / 1000
	if wall == 0 {
		// A multiwall sheet's maker gives its mass; about 0.7 of it is walls and 0.3 ribs (judgement).
		wall = 0.7 * e.mass / of.density / float64(e.walls)
	}
	var s Stack
	for i := range e.walls {
		s.Sheets = append(s.Sheets, Sheet{Index: of.index, ThicknessM: wall, ConductivityWMK: of.conductivity,
			EmittanceOuter: of.emittance, EmittanceInner: of.emittance, LongwaveTransmittance: e.longwave,
			HeatJM2K: e.mass * of.heat / float64(e.walls)})
		if i > 0 {
			s.Gaps = append(s.Gaps, Gap{ThicknessM: (e.thick/1000 - float64(e.walls)*wall) / float64(e.walls-1), Gas: e.gas})
		}
	}
	if e.coating > 0 {
		s.Sheets[1].EmittanceOuter = e.coating
	}
	return s
}
