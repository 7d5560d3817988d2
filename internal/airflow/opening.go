package airflow

import "math"

func quadrature(a, b float64) float64 { return math.Hypot(a, b) }

// smoothK is the difference of temperature [K] below which a root law is rounded.
const smoothK = 0.05

// StackFlow returns the air [m3/s] that buoyancy drives out through an opening
// of area [m2] whose middle is rise [m] above the height where inside and
// outside pressures are equal:
//
//	Q = Cd A sqrt(2 g rise (Ti - To)/T),  T the warmer of the two
//
// Positive is outward. A negative rise is an opening below that height: there a
// warm house draws in, and a cold one lets out, by the same law. discharge is 0.65 for one-way flow.
//
// Source: ASHRAE Fundamentals 2017, ch. 16, flow by thermal forces.
func StackFlow(areaM2, discharge, riseM, insideC, outsideC float64) float64 {
	warmest := max(insideC, outsideC) + zeroCelsius
	size := discharge * areaM2 * math.Sqrt(2*gravity*math.Abs(riseM)/warmest)
	return math.Copysign(size, riseM) * signedRoot(insideC-outsideC, smoothK)
}

// Vents is a low opening and a high one that work together.
type Vents struct {
	LowM2, HighM2 float64 // open areas, insect mesh and flap allowed for [m2]
	RiseM         float64 // from the middle of the low to the middle of the high [m]
	Discharge     float64 // of either; 0.65 by the handbook
	// WindEffect is the flow that wind drives over area and speed: 0.5 to 0.6
	// where it blows straight on, 0.25 to 0.35 aslant.
	WindEffect float64
}

// Area returns the one area that resists as the two in series do [m2]:
// A1 A2/sqrt(A1^2 + A2^2). It is 0 where either is closed.
func (v Vents) Area() float64 {
	if v.LowM2 <= 0 || v.HighM2 <= 0 {
		return 0
	}
	return v.LowM2 * v.HighM2 / quadrature(v.LowM2, v.HighM2)
}

// Stack returns the air [m3/s] that goes in low and out high by buoyancy;
// negative, in high and out low, where the house is the colder.
func (v Vents) Stack(insideC, outsideC float64) float64 {
	return StackFlow(v.Area(), v.Discharge, v.RiseM, insideC, outsideC)
}

// Wind returns the air [m3/s] that wind [m/s] drives through: Cw A v.
//
// Source: ASHRAE Fundamentals 2017, ch. 16, flow by wind.
func (v Vents) Wind(wind float64) float64 { return v.WindEffect * v.Area() * wind }

// Flow returns the outdoor air [m3/s] that buoyancy and wind exchange together:
// the root of the sum of their squares. Never negative: Stack tells which way
// buoyancy sends it, and where the vents face which way wind does.
//
// Source: ASHRAE Fundamentals 2017, ch. 16, superposition in quadrature, from memory.
func (v Vents) Flow(insideC, outsideC, wind float64) float64 {
	warmest := max(insideC, outsideC) + zeroCelsius
	stack := v.Discharge * v.Area() * math.Sqrt(2*gravity*v.RiseM/warmest) * evenRoot(insideC-outsideC, smoothK)
	return quadrature(stack, v.Wind(wind))
}

// Exchange returns the air [m3/s] that goes each way through an upright opening of
// the given width and height [m] between two airs, by their difference of temperature:
//
//	Q = (Cd/3) W sqrt(g H^3 |dT|/T),  T the mean
//
// discharge is 0.6 for a doorway; for a single vent or window to outdoors see
// SingleSided. Never negative; 0 at no difference.
//
// Source: Brown and Solvason 1962, Int. J. Heat Mass Transfer 5:859; Kiel and Wilson 1986.
func Exchange(widthM, heightM, discharge, oneC, otherC float64) float64 {
	mean := (oneC+otherC)/2 + zeroCelsius
	return discharge / 3 * widthM * math.Sqrt(gravity*heightM*heightM*heightM/mean) * evenRoot(oneC-otherC, smoothK)
}

// SingleSided returns the air [m3/s] that goes each way between house and
// outdoors through one opening of the given width and upright height [m]: by
// buoyancy as Exchange with Cd = 0.40 + 0.0045 |dT|, by gusts 0.025 A v, the root of the sum of their squares.
//
// Source: ASHRAE Fundamentals 2017, ch. 16 (after Kiel and Wilson 1986); gusts British
// Standard 5925:1991, from memory.
func SingleSided(widthM, heightM, insideC, outsideC, wind float64) float64 {
	discharge := 0.40 + 0.0045*math.Abs(insideC-outsideC)
	return quadrature(Exchange(widthM, heightM, discharge, insideC, outsideC), 0.025*widthM*heightM*wind)
}

// Level is a level opening between an air layer and the one above it.
type Level struct {
	AreaM2     float64 // [m2]
	SideM      float64 // side of a square opening, the narrow one of a long slot [m]
	ThicknessM float64 // of the edge, or of the band in which the layers mix [m]
}

// Overturn returns the air [m3/s] that a layer at lowerC exchanges with the one
// above it at upperC [°C], as much up as down:
//
//	Nu = 0.0546 Gr^0.55 Pr (L/H)^(1/3),  Gr = g |dT| H^3/(T nu^2),  Q = Nu k A/(H rho c)
//
// Cold air below warm stays where it is: 0. From there it rises smoothly and
// is within 1 % of the law from 0.5 K up. Published for 3e4 < Gr < 4e7 with Gr on the thickness H;
// carried on outside. still is the kinematic viscosity and Prandtl number of air.
//
// Source: Brown 1962, Int. J. Heat Mass Transfer 5:869, as recalled: from memory, the exponents not seen in print.
func (l Level) Overturn(lowerC, upperC float64, still Fluid) float64 {
	const scale = 0.2 // [K]
	excess := positive(lowerC-upperC, scale)
	kelvin := (lowerC+upperC)/2 + zeroCelsius
	h := l.ThicknessM
	grashof := gravity * excess * h * h * h / (kelvin * still.KinematicM2S * still.KinematicM2S)
	// k/(rho c) = nu/Pr, so Pr falls out of the flow.
	return 0.0546 * math.Pow(grashof, 0.55) * math.Cbrt(l.SideM/h) * still.KinematicM2S * l.AreaM2 / h
}
