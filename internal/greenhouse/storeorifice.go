package greenhouse

import "math"

// orificeShare is what passes a round hole with a sharp edge of what the area and the speed of fall would give.
//
// Source: Daugherty, Franzini and Finnemore, Fluid Mechanics with Engineering Applications, 1985: 0.61 for a sharp-edged orifice; from memory.
const orificeShare = 0.61

const gravity = 9.80665 // [m/s²], standard

// drainedM3 is what runs out of a vessel of level cross-section area [m²] through a hole of diameter d [m] in a time [s], with the water
// head [m] above the hole at its begin: Torricelli's speed sqrt(2 g h) at every instant, the air let in freely,
//
//	sqrt(h) = sqrt(h0) - C (pi d²/4) sqrt(g/2) t/A,   V = A (h0 - h)
//
// so that it ends with the head. Source: Torricelli's law, as in Daugherty, Franzini and Finnemore, Fluid Mechanics with Engineering
// Applications, 1985, from memory.
func drainedM3(area, d, head, seconds float64) float64 {
	if head <= 0 {
		return 0
	}
	root := math.Sqrt(head) - orificeShare*math.Pi/4*d*d*math.Sqrt(gravity/2)*seconds/area
	if root <= 0 {
		return area * head
	}
	return area * (head - root*root)
}
