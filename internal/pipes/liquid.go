package pipes

import "math"

// WaterDensity is that of fresh water at 10 °C [kg/m³]; between 0 and 20 °C it is within 0.2 %. Source: Kell 1975.
const WaterDensity = 999.7

// Water is fresh water at a temperature, 0 to 40 °C: its viscosity within 2.5 %
//
//	mu = 2.414e-5 10^(247.8/(T - 140)) Pa s,  T in K
//
// Source: Vogel's equation with the coefficients usual for water, from memory; heat and conductivity near 10 °C from steam tables, from memory.
func Water(celsius float64) Fluid {
	return Fluid{Density: WaterDensity, Viscosity: 2.414e-5 * math.Pow(10, 247.8/(celsius+zeroCelsius-140)), Conductivity: 0.58, Heat: 4192}
}

// Loss coefficients of fittings, of the speed's head: nominal size 1 in, screwed, which is the lossy side of the sizes in use here.
// Source: White, Fluid Mechanics, table 6.5 and fig. 6.21, from memory; ball valve: Crane, Technical Paper 410, from memory.
const (
	KEntry     = 0.5  // from a drum, sharp edge
	KExit      = 1.0  // into still water or the open
	KElbow     = 1.5  // 90°
	KTeeLine   = 0.9  // straight through a tee
	KTeeBranch = 1.8  // round the corner of a tee
	KBall      = 0.05 // open
	KGate      = 0.24 // open
	KGlobe     = 8.2  // open
	KOneWay    = 2.9  // a swinging one-way valve, open
	KFlap      = 1.0  // a light flap at the end of a pipe, open; own judgement
)

// Roughness of pipe walls [m]. Source: White, Fluid Mechanics, table 6.1, from memory.
const (
	RoughPlastic    = 0.0015e-3
	RoughSteel      = 0.046e-3
	RoughGalvanised = 0.15e-3
	RoughCopper     = 0.002e-3
	RoughRubber     = 0.01e-3
)

// Under is the flow that a head of water drives through a tube [m³/s], positive with the head [m]: where friction and fittings use it up.
func (t Tube) Under(f Fluid, head float64) float64 {
	if head < 0 {
		return -t.Under(f, -head)
	}
	if head == 0 {
		return 0
	}
	want := f.Density * gravity * head
	lo, hi := 0.0, math.Sqrt(2*gravity*head/max(t.Fittings, 0.01))
	for range 200 {
		mid := (lo + hi) / 2
		if hi-lo <= 1e-12*hi {
			break
		}
		if t.Loss(f, mid) < want {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2 * t.Section()
}

// stillFlow is a flow whose Reynolds number would be none [m³/s].
const stillFlow = 1e-30

// HeadOf is the head that a flow through the tube takes [m], with the sign of the flow [m³/s].
func (t Tube) HeadOf(f Fluid, flow float64) float64 {
	if math.Abs(flow) < stillFlow {
		return 0
	}
	return t.Loss(f, flow/t.Section()) / (f.Density * gravity)
}

// Orifice is the flow out of a round hole under a head of water [m³/s]: Cd A sqrt(2 g h), Cd 0.62 of a sharp edge, 0 without a head.
//
// Source: White, Fluid Mechanics, ch. 6.
func Orifice(diameter, head float64) float64 {
	return 0.62 * math.Pi / 4 * diameter * diameter * math.Sqrt(2*gravity*max(0, head))
}

// Gutter is the flow that a short, nearly level eaves gutter carries to its outlet [m³/s]:
//
//	half round: 0.9 2.78e-5 A^1.25 L/s;  box: 0.9 3.48e-5 A^1.25 L/s, A its section to the brim [mm²]
//
// Source: EN 12056-3:2000, clause 5.1, from memory, with its factor of safety 0.9 and without the factors of length and shape, which take
// off up to a fifth of long gutters.
func Gutter(width float64, box bool) float64 {
	section, factor := math.Pi/8*width*width, 2.78e-5
	if box {
		section, factor = width*width/2, 3.48e-5
	}
	return 0.9 * factor * math.Pow(section*1e6, 1.25) / 1000
}

// Lift is the work of a pump that lifts water [J]: rho g h V / efficiency.
func Lift(head, volume, efficiency float64) float64 {
	return WaterDensity * gravity * head * volume / efficiency
}

// Head is the head of a pressure of water [m], and Pressure the pressure of a head [Pa]: rho g h.
func Head(pressure float64) float64 { return pressure / (WaterDensity * gravity) }

// Pressure is rho g h [Pa].
func Pressure(head float64) float64 { return WaterDensity * gravity * head }
