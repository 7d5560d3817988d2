package pipes

import "math"

// Drag of grains that sink, of Ferguson and Church's equation. Source: Ferguson and Church 2004, figures seen in copies.
const (
	DragGrain  = 1.0 // natural grains, by sieve size
	DragSphere = 0.4 // smooth spheres
)

// Stokes is the speed at which a small sphere sinks in still fluid [m/s], of a diameter [m] and density [kg/m³]; below 0 it rises:
//
//	v = g (rho_s - rho) d²/(18 mu)
//
// Range: Reynolds number v d rho/mu below about 1; above, it is too fast.
//
// Source: Stokes 1851; Davis, Water and Wastewater Engineering, eq. 10-12.
func (f Fluid) Stokes(diameter, density float64) float64 {
	return gravity * (density - f.Density) * diameter * diameter / (18 * f.Viscosity)
}

// Sinks is the speed at which a grain of any size sinks in still fluid [m/s]; 0 for one that is no heavier than the fluid:
//
//	v = R g d²/(18 nu + sqrt(0.75 C R g d³)),  R = rho_s/rho - 1
//
// drag is C: DragGrain or DragSphere. Small grains sink as Stokes has it, large ones by turbulent drag; between them it is within about a tenth for sieved sand.
//
// Source: Ferguson and Church 2004, eq. 4, its accuracy from memory.
func (f Fluid) Sinks(diameter, density, drag float64) float64 {
	r := density/f.Density - 1
	if r <= 0 || diameter <= 0 {
		return 0
	}
	w := r * gravity * diameter * diameter
	return w / (18*f.Viscosity/f.Density + math.Sqrt(0.75*drag*w*diameter))
}

// SinksAt is the diameter of the natural grain of a density that sinks at a speed [m]; infinite where none does up to 1 m.
func (f Fluid) SinksAt(speed, density float64) float64 {
	lo, hi := 0.0, 1.0
	if f.Sinks(hi, density, DragGrain) < speed {
		return math.Inf(1)
	}
	for range 100 {
		if mid := (lo + hi) / 2; f.Sinks(mid, density, DragGrain) < speed {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// Caught is the share of particles that an ideal basin holds back, that sink at a speed [m/s] while a flow [m³/s] passes a surface [m²]: min(1, v A/Q). One
// that sinks faster than Q/A, the overflow rate, is caught wherever it came in; how deep the basin is does not matter.
//
// Source: Hazen 1904; Davis, Water and Wastewater Engineering, ch. 10.
func Caught(speed, surface, flow float64) float64 {
	if flow <= 0 {
		return 1
	}
	return min(1, max(0, speed)*surface/flow)
}
