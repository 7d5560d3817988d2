package water

import (
	"math"

	"suncellar/internal/material"
	"suncellar/internal/pipes"
)

// Still is water that stands in a round pipe and gives its heat to the air round it alone: what its ends, what it hangs on and the ground would give it
// is left out, and water begins to freeze at 0 °C: both are the cold side.
type Still struct {
	Diameter float64 // inside [m]
	Wall     float64 // thickness [m]
	WallWMK  float64 // conductivity of the wall [W/mK]
	FilmWM2K float64 // outside, convection and radiation together [W/m²K]
}

// Cold is the state of such water.
type Cold struct {
	C   float64 // [°C]; 0 while there is ice
	Ice float64 // share that is frozen, 0 to 1
}

// Resistance is that of wall and film for a metre of pipe [mK/W]: 1/(pi Do h) + ln(Do/D)/(2 pi k).
//
// Source: Incropera and DeWitt, ch. 3.
func (s Still) Resistance() float64 {
	outer := s.Diameter + 2*s.Wall
	return 1/(math.Pi*outer*s.FilmWM2K) + math.Log(outer/s.Diameter)/(2*math.Pi*s.WallWMK)
}

func (s Still) section() float64 { return math.Pi / 4 * s.Diameter * s.Diameter }

// tau is the time in which the water's distance to the air falls to 1/e [s].
func (s Still) tau() float64 {
	w := pipes.Water(0)
	return w.Density * w.Heat * s.section() * s.Resistance()
}

// CoolsS is the time in which water cools from one temperature to another in air of a steady one [s]; infinite where it never gets there:
//
//	t = rho c A R ln((from - air)/(to - air))
//
// Source: ASHRAE Handbook Fundamentals 2017, ch. 23, as quoted for 2009 and 2019, with the wall and film that it lets be neglected.
func (s Still) CoolsS(from, to, air float64) float64 {
	if from <= to {
		return 0
	}
	if to <= air {
		return math.Inf(1)
	}
	return s.tau() * math.Log((from-air)/(to-air))
}

// FreezesS is the time in which a share of water of 0 °C freezes in air of a steady temperature [s], from the wall inward; infinite in air that does not freeze:
//
//	t = rho L A/(0 - air) (R s + (s + (1 - s) ln(1 - s))/(4 pi k)),  k of ice
//
// Source: Plank 1913, who has it for s = 1: t = rho L/(0 - air) (D/(4 h) + D²/(16 k)); from memory.
func (s Still) FreezesS(share, air float64) float64 {
	if air >= 0 {
		return math.Inf(1)
	}
	return s.latent() * s.work(share) / -air
}

// latent is the heat of a metre that freezes [J/m].
func (s Still) latent() float64 { return pipes.WaterDensity * material.FusionJKg * s.section() }

// work is what a share of ice took of kelvin and seconds, over the heat of a metre [mK/W].
func (s Still) work(share float64) float64 {
	left := 1 - share
	inner := share
	if left > 0 {
		inner += left * math.Log(left)
	}
	return s.Resistance()*share + inner/(4*math.Pi*material.IceConductivityWMK)
}

// shareOf is the ice that came of such work.
func (s Still) shareOf(work float64) float64 {
	if work >= s.work(1) {
		return 1
	}
	lo, hi := 0.0, 1.0
	for range 50 {
		if mid := (lo + hi) / 2; s.work(mid) < work {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// After is the state after some time in air of a steady temperature [s, °C]: exact for the laws above. It thaws as it froze, the ice in the way of the heat.
func (s Still) After(at Cold, air, seconds float64) Cold {
	if at.Ice == 0 {
		to := air + (at.C-air)*math.Exp(-seconds/s.tau())
		if to >= 0 {
			return Cold{C: to}
		}
		seconds -= s.CoolsS(at.C, 0, air)
	}
	work := s.work(at.Ice) - air*seconds/s.latent()
	if work > 0 {
		return Cold{Ice: s.shareOf(work)}
	}
	return s.After(Cold{}, air, -work*s.latent()/max(air, 1e-9))
}
