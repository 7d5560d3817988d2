package pipes

import "math"

// lewis is the two-thirds power of the Lewis number of vapour in air, 0.845: what heat passes, over what vapour does.
// Source: Chilton and Colburn 1934; ASHRAE Fundamentals 2017 ch. 6; the number from memory.
const lewis = 0.8938

// WetBypass is the share of the vapour that passes a wet part by, exp(-NTU/Le^(2/3)), where bypass = exp(-NTU) is that of heat.
func WetBypass(bypass float64) float64 { return math.Pow(bypass, 1/lewis) }

// Condensing is what a tube of equal parts takes out of a kilogram of dry air that enters it with w of vapour [kg/kg]: in each part
// whose wall is below the dew point
//
//	take = (1 - b) (w - w_sat(wall)),  b = WetBypass
//
// saturated holds w_sat of the walls from the first to the last; dir below 0 enters at the last. take gets what each wall catches;
// sum is all of it, slope how fast it rises with w: between two walls' dew points it is straight, so that sum + slope (w' - w) is exact there.
func Condensing(w float64, saturated []float64, b float64, dir int, take []float64) (sum, slope float64) {
	left := 1.0 // change of w here for a change of w at the entrance
	for k := range saturated {
		i := k
		if dir < 0 {
			i = len(saturated) - 1 - k
		}
		take[i] = 0
		if w > saturated[i] {
			take[i] = (1 - b) * (w - saturated[i])
			slope += (1 - b) * left
			left *= b
			w -= take[i]
			sum += take[i]
		}
	}
	return sum, slope
}
