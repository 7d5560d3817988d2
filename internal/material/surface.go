package material

import "fmt"

// Surface is how a face takes sunlight and longwave.
type Surface struct {
	Key         string
	Absorptance float64 // share of sunlight taken up
	Emittance   float64 // longwave
	Source      string
	Confidence  Confidence
}

const colourSource = "trade range for drums, from memory"

// surfaces is read only.
var surfaces = [...]Surface{
	{"black", 0.92, 0.90, colourSource, Medium},
	{"dark_blue", 0.75, 0.90, colourSource, Medium},
	{"white", 0.35, 0.90, colourSource, Medium},
	{"dark_green", 0.80, 0.90, memory, Low},
	{"dark_brown", 0.85, 0.90, memory, Low},
	{"red", 0.65, 0.90, memory, Low},
	{"grey", 0.65, 0.90, memory, Low},
	{"light_grey", 0.50, 0.90, memory, Low},
	{"yellow", 0.45, 0.90, memory, Low},
	{"wood", 0.55, 0.90, memory, Low},
	{"concrete", 0.65, 0.90, memory, Low},
	{"brick", 0.65, 0.90, memory, Low},
	{"soil_moist", 0.85, 0.95, memory, Low},
	{"soil_dry", 0.75, 0.92, memory, Low},
	{"gravel", 0.70, 0.92, memory, Low},
	{"leaves", 0.50, 0.95, memory, Low},
	{"galvanised", 0.60, 0.28, memory, Low},
	{"aluminium_foil", 0.15, 0.05, memory, Low},
}

// LookupSurface returns the surface of that colour or kind. The error lists the known keys.
func LookupSurface(key string) (Surface, error) {
	for i := range surfaces {
		if surfaces[i].Key == key {
			return surfaces[i], nil
		}
	}
	return Surface{}, unknown("surface", key, SurfaceNames())
}

// SurfaceNames returns the keys of all surfaces, sorted.
func SurfaceNames() []string { return keys(surfaces[:], func(s Surface) string { return s.Key }) }

// Flow is the direction in which heat crosses a gap or leaves a surface.
type Flow int

// Directions of heat flow, within 30° as ISO 6946 has it.
const (
	Horizontal Flow = iota
	Up
	Down
)

// OutsideResistance is that of an outside surface in a wind of 4 m/s [m2 K/W]; ISO 6946, table 7.
const OutsideResistance = 0.04

// InsideResistance returns the surface resistance indoors [m2 K/W], radiation
// included, by the direction of heat flow.
//
// Source: ISO 6946, table 7, from memory.
func InsideResistance(flow Flow) float64 {
	switch flow {
	case Up:
		return 0.10
	case Down:
		return 0.17
	default:
		return 0.13
	}
}

// gaps is read only: thickness [m], resistance up, horizontal, down [m2 K/W].
var gaps = [...][4]float64{
	{0, 0, 0, 0}, {0.005, 0.11, 0.11, 0.11}, {0.007, 0.13, 0.13, 0.13}, {0.010, 0.15, 0.15, 0.15}, {0.015, 0.16, 0.17, 0.17},
	{0.025, 0.16, 0.18, 0.19}, {0.050, 0.16, 0.18, 0.21}, {0.100, 0.16, 0.18, 0.22}, {0.300, 0.16, 0.18, 0.23},
}

// AirGap returns the resistance [m2 K/W] of an unventilated air gap of thickness
// [m] between ordinary surfaces (emittance 0.8 or more), 0 to 0.3 m, straight
// lines between the rows of the table.
//
// Source: ISO 6946, table 8, from memory.
func AirGap(thicknessM float64, flow Flow) (float64, error) {
	last := gaps[len(gaps)-1][0]
	if !(thicknessM >= 0 && thicknessM <= last) {
		return 0, fmt.Errorf("air gap is %g m thick, must be 0 to %g m", thicknessM, last)
	}
	column := flow.column()
	i := 1
	for gaps[i][0] < thicknessM {
		i++
	}
	below, above := gaps[i-1], gaps[i]
	share := (thicknessM - below[0]) / (above[0] - below[0])
	return below[column] + share*(above[column]-below[column]), nil
}

func (f Flow) column() int {
	switch f {
	case Up:
		return 1
	case Down:
		return 3
	default:
		return 2
	}
}
