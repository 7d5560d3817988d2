package glazing

import "math"

// Place is where a pane stands, as far as its gaps feel it.
type Place struct {
	// Slope of the pane from level ground, 0 to 180°; beyond 90° it leans over the
	// room, so that its outer face looks down.
	Slope Angle
	// HeightM is the length of the gap along the slope, from rail to rail [m]; 0
	// stands for 1 m.
	HeightM float64
	// PressurePa is that of the air in the gap [Pa]; 0 stands for 101325, sea level.
	PressurePa float64
}

// Conductance is what crosses a gap per kelvin, by way [W/m2 K].
type Conductance struct {
	Convection float64 // of the gas, conduction included
	Radiation  float64
	Web        float64 // ribs and what else was added
}

// Total returns the sum of the three ways [W/m2 K].
func (c Conductance) Total() float64 { return c.Convection + c.Radiation + c.Web }

const (
	stefanBoltzmann = 5.670374e-8
	zeroCelsius     = 273.15
	gravity         = 9.80665
	seaLevelPa      = 101325.0
	gasConstant     = 8314.46 // J/kmol K
)

// GapConductance returns what crosses gap i, counted from 0 outdoors, per kelvin
// between its faces at outer and inner [°C]. A fixed gap gives its fixed value as convection.
func (s Stack) GapConductance(i int, outerC, innerC float64, at Place) Conductance {
	g := s.Gaps[i]
	if g.FixedWM2K > 0 {
		return Conductance{Convection: g.FixedWM2K, Web: g.WebWM2K}
	}
	gas := g.gas((outerC+innerC)/2, at)
	nu := nusselt(gas.rayleigh(innerC-outerC, g.ThicknessM), innerC-outerC, g.ThicknessM, at)
	return Conductance{
		Convection: nu * gas.conductivity / g.ThicknessM,
		Radiation:  radiation(outerC, innerC, s.Sheets[i].EmittanceInner, s.Sheets[i+1].EmittanceOuter),
		Web:        g.WebWM2K,
	}
}

// radiation returns the longwave exchange of two large parallel faces per kelvin
// [W/m2 K]: sigma (T1^2 + T2^2)(T1 + T2)/(1/e1 + 1/e2 - 1).
func radiation(c1, c2, e1, e2 float64) float64 {
	t1, t2 := c1+zeroCelsius, c2+zeroCelsius
	return stefanBoltzmann * (t1*t1 + t2*t2) * (t1 + t2) / (1/e1 + 1/e2 - 1)
}

// gasState is the fill of a gap at its mean temperature.
type gasState struct {
	conductivity, viscosity, density, heat, kelvin float64
}

// gas returns the properties of the fill by ISO 15099:2003, annex B (from memory),
// straight lines in T from 0 to 100 °C, and the gas law. Argon90 is mixed by mole share, not by
// the standard's kinetic formula: within 1 % for conductivity.
func (g Gap) gas(meanC float64, at Place) gasState {
	t := meanC + zeroCelsius
	pressure := at.PressurePa
	if pressure == 0 {
		pressure = seaLevelPa
	}
	air := gasState{2.873e-3 + 7.760e-5*t, 3.723e-6 + 4.940e-8*t, pressure * 28.97 / (gasConstant * t), 1002.737 + 1.2324e-2*t, t}
	if g.Gas == Air {
		return air
	}
	argon := gasState{2.285e-3 + 5.149e-5*t, 3.379e-6 + 6.451e-8*t, pressure * 39.948 / (gasConstant * t), 521.9285, t}
	mix := func(a, b float64) float64 { return 0.1*a + 0.9*b }
	density := mix(air.density, argon.density)
	return gasState{mix(air.conductivity, argon.conductivity), mix(air.viscosity, argon.viscosity), density,
		mix(air.heat*air.density, argon.heat*argon.density) / density, t}
}

// rayleigh returns rho^2 g c |dT| d^3/(T mu k).
func (g gasState) rayleigh(difference, thickness float64) float64 {
	return g.density * g.density * gravity * g.heat * math.Abs(difference) * thickness * thickness * thickness /
		(g.kelvin * g.viscosity * g.conductivity)
}

// nusselt returns how many times more than by conduction heat crosses the gas of
// a gap, by its Rayleigh number and the inner face's excess temperature. Warmer
// inner face under a slope is heating from below:
//
//	0 to 60°   Hollands, on Ra cos s
//	60 to 90°  straight line in the slope between Hollands at 60° and the vertical
//	90°        ElSherbiny, on Ra and height over thickness
//	warm outer face: 1 + (vertical - 1) sin s
//
// All are 1 at no difference. Range Ra < 2e7.
//
// Source: Hollands, Unny, Raithby and Konicek 1976, J. Heat Transfer 98:189, eq. 5;
// ElSherbiny, Raithby and Hollands 1982, J. Heat Transfer 104:96; from above and between
// 60° and 90° as in ISO 15099:2003, 5.3.3.
func nusselt(ra, difference, thickness float64, at Place) float64 {
	height := at.HeightM
	if height == 0 {
		height = 1
	}
	slope := float64(at.Slope)
	if slope > math.Pi/2 { // upside down: what was heated from below is heated from above
		slope, difference = math.Pi-slope, -difference
	}
	if difference < 0 {
		return 1 + (nusseltVertical(ra, height/thickness)-1)*math.Sin(slope)
	}
	const steep = math.Pi / 3
	if slope <= steep {
		return nusseltFromBelow(ra, slope)
	}
	share := (slope - steep) / (math.Pi/2 - steep)
	return (1-share)*nusseltFromBelow(ra, steep) + share*nusseltVertical(ra, height/thickness)
}

// nusseltFromBelow is Hollands et al. 1976, eq. 5:
//
//	1 + 1.44 [1 - 1708/(Ra cos s)] (1 - 1708 (sin 1.8 s)^1.6/(Ra cos s)) + [(Ra cos s/5830)^(1/3) - 1]
//
// with square brackets not below 0. Range 0 to 60°, 0 < Ra < 1e5 and beyond.
func nusseltFromBelow(ra, slope float64) float64 {
	x := ra * math.Cos(slope)
	if x <= 1708 {
		return 1
	}
	return 1 + 1.44*(1-1708/x)*(1-1708*math.Pow(math.Sin(1.8*slope), 1.6)/x) + max(0, math.Cbrt(x/5830)-1)
}

// nusseltVertical is ElSherbiny et al. 1982 for an upright gap of the given
// height over thickness, 5 to 110, 1e2 < Ra < 2e7: the largest of
//
//	[1 + (0.104 Ra^0.293/(1 + (6310/Ra)^1.36))^3]^(1/3),  0.242 (Ra/A)^0.272,  0.0605 Ra^(1/3)
//
// and, at very small Ra, 1.
func nusseltVertical(ra, aspect float64) float64 {
	if ra == 0 {
		return 1
	}
	inner := 0.104 * math.Pow(ra, 0.293) / (1 + math.Pow(6310/ra, 1.36))
	return max(math.Cbrt(1+inner*inner*inner), 0.242*math.Pow(ra/aspect, 0.272), 0.0605*math.Cbrt(ra))
}
