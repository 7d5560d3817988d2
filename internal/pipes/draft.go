package pipes

import "math"

// Path is a tube with an opening at either end, A and B, both above its axis: down at one end, along, up at the other.
type Path struct {
	Tube
	RiseA, RiseB float64 // of the openings above the tube's axis [m]
}

// Around is what stands at and between the openings at one moment.
type Around struct {
	Pressure float64   // of the air [Pa]
	AC, BC   float64   // air before the openings [°C]
	Head     float64   // weight of the air outside the tube from A up to B, density times height [kg/m²]
	Push     float64   // further pressure from A to B, such as wind on an opening [Pa]
	Walls    []float64 // temperature of the wall of equal parts of the tube, from A to B [°C]
	Air      Fluid     // in the tube
	Fan      Fan       // that runs; the zero value is none
}

// Fan is a fan in the tube's way whose pressure falls straight from shut to free.
type Fan struct {
	Shut float64 // pressure against a shut end [Pa]
	Free float64 // speed in the tube when nothing holds it back [m/s], above 0 where Shut is
	Back bool    // it blows from B to A
}

// Drive is the pressure that moves the air the given way at a speed [Pa], friction not taken off; dir is +1 from A to B, -1 from B
// to A. The leg where air enters holds the air that stands before it, the other what the tube has made of it:
//
//	from A to B:  g (rho(A) zA - rho(out) zB + Head) + Push
//
// At speed 0 the air that comes out is at the last wall. It is the law of a chimney taken round the whole way.
func (p Path) Drive(a *Around, speed float64, dir int) float64 {
	bypass := 0.0
	if speed > 0 {
		bypass = math.Exp(-p.NTU(a.Air, speed) / float64(len(a.Walls)))
	}
	in, riseIn, riseOut, sign := a.AC, p.RiseA, p.RiseB, 1.0
	if dir < 0 {
		in, riseIn, riseOut, sign = a.BC, p.RiseB, p.RiseA, -1
	}
	out := Along(in, a.Walls, bypass, dir)
	return gravity*(AirDensity(in, a.Pressure)*riseIn-AirDensity(out, a.Pressure)*riseOut+sign*a.Head) + sign*a.Push
}

// Flow is the speed in the tube at which draft and fan are used up by friction and fittings [m/s], positive from A to B. It is
// nil where neither way is driven.
//
// Air that enters colder than the walls drives itself on whichever way it has begun to move, so both ways may be driven at once. The
// flow then takes the way that is driven more; as the two come to be equal, within a fifth, it dies away, since a tube with no way of
// its own cannot be counted on. With a fan it goes the fan's way or not at all. That a flow once begun may go on against a
// stronger drive the other way is left out.
func (p Path) Flow(a *Around) float64 {
	if f := a.Fan; f.Shut > 0 {
		if f.Back {
			return -p.settle(a, -1, 1)
		}
		return p.settle(a, +1, 1)
	}
	on, back := p.Drive(a, 0, +1), p.Drive(a, 0, -1)
	switch {
	case on > 0 && on >= back:
		return p.settle(a, +1, undecided(back/on))
	case back > 0:
		return -p.settle(a, -1, undecided(on/back))
	}
	return 0
}

// undecided is the share of the drive that is counted on, by the lesser drive over the greater: all up to 0.8, none at 1.
func undecided(ratio float64) float64 {
	s := min(1, max(0, (1-ratio)/0.2))
	return s * s * (3 - 2*s)
}

// nothing is a drive that is rounding: heights of metres times densities of a kilogram leave a hundredth of that [Pa].
const nothing = 1e-10

// speedTolerance is how closely the speed is found, as a share of it.
const speedTolerance = 1e-7

// settle finds the speed one way where share times the drive, with the fan's pressure, equals the loss.
func (p Path) settle(a *Around, dir int, share float64) float64 {
	left := func(v float64) float64 {
		d := share*p.Drive(a, v, dir) - p.Loss(a.Air, v)
		if a.Fan.Shut > 0 {
			d += a.Fan.Shut * (1 - v/a.Fan.Free)
		}
		return d
	}
	lo, fLo := 0.0, left(0)
	if !(fLo > nothing) {
		return 0
	}
	hi := p.beyond(a, dir)
	fHi := left(hi)
	// false position; the end that stays is halved (the Illinois rule), which keeps it from creeping
	kept := 0
	for range 60 {
		v := (lo*fHi - hi*fLo) / (fHi - fLo)
		if hi-lo < speedTolerance*hi {
			return v
		}
		f := left(v)
		switch {
		case f == 0:
			return v
		case f > 0:
			if math.Abs(v-lo) < speedTolerance*v {
				return v
			}
			lo, fLo = v, f
			if kept == 1 {
				fHi /= 2
			}
			kept = 1
		default:
			if math.Abs(hi-v) < speedTolerance*v {
				return v
			}
			hi, fHi = v, f
			if kept == -1 {
				fLo /= 2
			}
			kept = -1
		}
	}
	return (lo + hi) / 2
}

// beyond is a speed above any that can come of it: fittings alone would use up the greatest drive that any outlet temperature gives.
func (p Path) beyond(a *Around, dir int) float64 {
	in, riseIn, riseOut, sign := a.AC, p.RiseA, p.RiseB, 1.0
	if dir < 0 {
		in, riseIn, riseOut, sign = a.BC, p.RiseB, p.RiseA, -1
	}
	most := math.Inf(-1)
	for i := -1; i < len(a.Walls); i++ {
		out := in
		if i >= 0 {
			out = a.Walls[i]
		}
		most = max(most, gravity*(AirDensity(in, a.Pressure)*riseIn-AirDensity(out, a.Pressure)*riseOut+sign*a.Head)+sign*a.Push)
	}
	most = max(0, most) + a.Fan.Shut
	return 1.001*math.Sqrt(2*most/(a.Air.Density*p.Fittings)) + 1e-9
}
