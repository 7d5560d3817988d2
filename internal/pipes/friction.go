package pipes

import "math"

// Haaland returns Darcy's friction factor of turbulent flow, explicitly:
//
//	1/sqrt f = -1.8 log10((e/3.7)^1.11 + 6.9/Re),  e = roughness over diameter
//
// Range Re 4e3 to 1e8, e up to 0.05; within 2 % of Colebrook's.
//
// Source: Haaland 1983, from memory.
func Haaland(re, rough float64) float64 {
	x := -1.8 * math.Log10(math.Pow(rough/3.7, 1.11)+6.9/re)
	return 1 / (x * x)
}

// Colebrook returns Darcy's friction factor of turbulent flow:
//
//	1/sqrt f = -2 log10(e/3.7 + 2.51/(Re sqrt f)),  e = roughness over diameter
//
// Newton's steps on 1/sqrt f from Haaland's value; two leave an error below 1e-9. Range as Haaland's.
//
// Source: Colebrook 1939; White, Fluid Mechanics, ch. 6.
func Colebrook(re, rough float64) float64 {
	x := 1 / math.Sqrt(Haaland(re, rough))
	const perLog = 2 / math.Ln10
	for range 2 {
		inner := rough/3.7 + 2.51*x/re
		x -= (x + perLog*math.Log(inner)) / (1 + perLog*2.51/re/inner)
	}
	return 1 / (x * x)
}

// Friction returns Darcy's friction factor at any Reynolds number above 0: 64/Re laminar, Colebrook turbulent, and between Re 2300
// and 4000 a smooth mean of the two. It falls, rises through the change, and falls again; times Re² it rises throughout.
func Friction(re, rough float64) float64 {
	w := turbulent(re)
	if w == 0 {
		return 64 / re
	}
	f := Colebrook(re, rough)
	if w == 1 {
		return f
	}
	return w*f + (1-w)*64/re
}

// Loss is the pressure that friction along the tube and its fittings take at a speed [Pa], with the sign of the speed:
//
//	(f L/D + K) rho v²/2
//
// It rises with the speed, straight through 0.
func (t Tube) Loss(f Fluid, speed float64) float64 {
	if speed == 0 {
		return 0
	}
	re := t.Reynolds(f, speed)
	return (Friction(re, t.Roughness/t.Diameter)*t.Length/t.Diameter + t.Fittings) * f.Density / 2 * speed * math.Abs(speed)
}
