package cropwater

import "math"

// Soil is what a soil holds, as shares of its volume, and what its face can lose.
type Soil struct {
	Texture  string
	Capacity float64 // at field capacity [m³/m³]
	Held     float64 // of that, what roots can draw: down to the wilting point [m³/m³]
	EasyMM   float64 // what the uppermost 10 cm lose to the air with ease [mm]
	FaceMM   float64 // all that they can lose [mm]
}

// Wilting is the water at which plants wilt for good [m³/m³].
func (s Soil) Wilting() float64 { return s.Capacity - s.Held }

// soils are the middles of the ranges; two textures that the paper does not have stand with their neighbours. From memory.
// Source: FAO paper 56, table 19.
var soils = [...]Soil{
	{"sand", 0.12, 0.08, 4.5, 9},
	{"loamy sand", 0.15, 0.09, 6, 11.5},
	{"sandy loam", 0.23, 0.13, 8, 17.5},
	{"sandy clay loam", 0.23, 0.13, 8, 17.5}, // as sandy loam
	{"loam", 0.25, 0.155, 9, 19},
	{"silt loam", 0.29, 0.16, 9.5, 21.5},
	{"silt", 0.32, 0.18, 9.5, 24},
	{"clay loam", 0.335, 0.155, 9.5, 24.5}, // as silty clay loam
	{"silty clay loam", 0.335, 0.155, 9.5, 24.5},
	{"silty clay", 0.36, 0.16, 10, 25},
	{"clay", 0.36, 0.16, 10, 25},
}

// SoilOf is the soil of a texture; false for one that is not known.
func SoilOf(texture string) (Soil, bool) {
	for _, s := range soils {
		if s.Texture == texture {
			return s, true
		}
	}
	return Soil{}, false
}

// AvailableMM is all the water that roots of a depth can draw: 1000 (capacity - wilting) Zr. Source: FAO paper 56, eq. 82.
func AvailableMM(s Soil, rootsM float64) float64 { return 1000 * s.Held * rootsM }

// EasyShare is the share of it that roots draw without want, by the paper's p for 5 mm a day: p + 0.04 (5 - ETc), 0.1 to 0.8. What is lost slowly can be drawn
// for longer.
// Source: FAO paper 56, table 22, note 2; from memory.
func EasyShare(p, lossMM float64) float64 {
	return math.Max(0.1, math.Min(0.8, p+0.04*(5-lossMM)))
}

// Want is the share of its need that a crop still gets, Ks: 1 until the easy share of the available water is gone, then in a straight line to 0:
//
//	(TAW - D)/((1 - p) TAW)
//
// Source: FAO paper 56, eq. 84.
func Want(lacksMM, availableMM, easyShare float64) float64 {
	if lacksMM <= easyShare*availableMM {
		return 1
	}
	return math.Max(0, (availableMM-lacksMM)/((1-easyShare)*availableMM))
}

// Zone is the water of a root zone: what it lacks to field capacity [mm].
type Zone struct{ LacksMM float64 }

// Pass takes the zone through a day: what is lost, Ks times the need, and water given in the morning, so that Ks is that of the soil after it; what is too much drains, and no
// more is lost than there is. It returns what was lost and what drained [mm].
//
//	D = D0 - given + lost + drained, held to 0 .. TAW
//
// Rain and water that rises from below are left to the caller, as water given. Source: FAO paper 56, eq. 85 to 88.
func (z *Zone) Pass(needMM, givenMM, availableMM, easyShare float64) (lostMM, drainedMM float64) {
	lostMM = math.Min(Want(z.LacksMM-givenMM, availableMM, easyShare)*needMM, math.Max(0, availableMM-z.LacksMM+givenMM))
	z.LacksMM += lostMM - givenMM
	if z.LacksMM < 0 {
		drainedMM, z.LacksMM = -z.LacksMM, 0
	}
	return lostMM, drainedMM
}
