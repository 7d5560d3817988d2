package pipes

import "math"

// Nusselt returns the number of that name of fully developed turbulent flow in a smooth pipe:
//
//	Nu = (f/8) (Re - 1000) Pr / (1 + 12.7 sqrt(f/8) (Pr^(2/3) - 1)),  f = (0.79 ln Re - 1.64)^-2
//
// Range Re 3e3 to 5e6, Pr 0.5 to 2000, 10 %. f is Petukhov's of a smooth pipe: a rough wall passes more heat, which is not counted on.
//
// Source: Gnielinski 1976; f from Petukhov 1970.
func Nusselt(re, prandtl float64) float64 {
	root := 1 / (0.79*math.Log(re) - 1.64) // sqrt f
	e := root * root / 8
	p := math.Cbrt(prandtl)
	return e * (re - 1000) * prandtl / (1 + 12.7*root*math.Sqrt(1.0/8)*(p*p-1))
}

// Laminar returns the mean Nusselt number of laminar flow behind its entrance, at one wall temperature:
//
//	Nu = 3.66 + 0.0668 Gz/(1 + 0.04 Gz^(2/3)),  Gz = Re Pr D/L
//
// Range Re up to 2300. What buoyancy stirs within the tube is left out, which is the cold side.
//
// Source: Hausen 1943, from memory; Incropera and DeWitt, ch. 8.
func Laminar(re, prandtl, overLength float64) float64 {
	gz := re * prandtl * overLength
	c := math.Cbrt(gz)
	return 3.66 + 0.0668*gz/(1+0.04*c*c)
}

// Film is the heat that passes from the fluid to the wall, mean over the tube [W/m²K]: laminar, Gnielinski's, or a smooth mean of
// the two between Re 2300 and 4000.
func (t Tube) Film(f Fluid, speed float64) float64 {
	re, pr := t.Reynolds(f, speed), f.Prandtl()
	w := turbulent(re)
	nu := 0.0
	if w < 1 {
		nu = (1 - w) * Laminar(re, pr, t.Diameter/t.Length)
	}
	if w > 0 {
		nu += w * Nusselt(re, pr)
	}
	return nu * f.Conductivity / t.Diameter
}

// NTU is the number of transfer units of the tube: film times wall over the heat capacity flow. Without flow it is infinite.
func (t Tube) NTU(f Fluid, speed float64) float64 {
	if speed == 0 {
		return math.Inf(1)
	}
	return 4 * t.Film(f, speed) * t.Length / (t.Diameter * f.Density * math.Abs(speed) * f.Heat)
}

// Outlet is the temperature at the end of a tube of one wall temperature [°C]: Tw + (Tin - Tw) exp(-NTU), which is exact for
// a slug of fluid.
func Outlet(in, wall, ntu float64) float64 { return wall + (in-wall)*math.Exp(-ntu) }

// Along is the temperature at the end of a tube cut into equal parts, each at a wall temperature of its own [°C], and bypass is
// exp(-NTU) of one part. dir tells from which end the walls are passed: below 0 from the last.
func Along(in float64, walls []float64, bypass float64, dir int) float64 {
	for i := range walls {
		w := walls[i]
		if dir < 0 {
			w = walls[len(walls)-1-i]
		}
		in = w + (in-w)*bypass
	}
	return in
}
