package ground

import (
	"fmt"
	"math"
)

// Surface resistances of ISO 6946 as ISO 13370 takes them [m²K/W].
const (
	floorFilm   = 0.17 // heat downward
	wallFilm    = 0.13 // heat sideways
	outdoorFilm = 0.04
)

// Footprint is a rectangular floor on the ground or below it, with what ISO 13370 asks of it.
type Footprint struct {
	Breadth float64 // b, of the floor in the plane of the slice [m]
	Length  float64 // l, of the floor along the house [m]
	Depth   float64 // z, of the floor below grade [m]; 0 is a slab on the ground
	Wall    float64 // w, thickness of the walls at grade [m]
	K       float64 // lambda, conductivity of the ground, of layers their mean [W/mK]
	RFloor  float64 // of insulation on the floor [m²K/W]
	RWall   float64 // of the walls below grade [m²K/W]
	// KAt is the conductivity of ground in layers by depth below grade [W/mK]; nil means K. SolidRatio knows it, the formulas have K alone.
	KAt func(depth float64) float64
}

// Loss is the steady conductance from the room through floor and walls below grade to outdoors [W/K].
//
//	H = A Uf + z P Uw,  A = b l, P = 2 (b + l)
//
// Source: ISO 13370:2017, slab on ground and heated basement, steady-state ground heat transfer coefficient.
func (f Footprint) Loss() float64 {
	return f.loss(f.Breadth*f.Length, 2*(f.Breadth+f.Length))
}

// Ratio is the loss of the finite floor over that of an equally long piece of an endless one (whose perimeter is its two long
// sides alone): what the ends add.
//
//	B' = A/(0.5 P) = b l/(b + l) for the finite floor, B' = b for the endless one
//
// Source: ISO 13370:2017, characteristic dimension of floor.
func (f Footprint) Ratio() float64 {
	return f.Loss() / f.loss(f.Breadth*f.Length, 2*f.Length)
}

// Turns is the ratio of the whole perimeter to the two long sides, (b + l)/l.
func (f Footprint) Turns() float64 { return (f.Breadth + f.Length) / f.Length }

func (f Footprint) loss(area, perimeter float64) float64 {
	h := area * f.floorU(area/(0.5*perimeter))
	if f.Depth > 0 {
		h += f.Depth * perimeter * f.wallU()
	}
	return h
}

// equivalent is dt, floor and walls as a thickness of ground [m].
func (f Footprint) equivalent() float64 { return f.Wall + f.K*(floorFilm+f.RFloor+outdoorFilm) }

// floorU is the transmittance of the floor with the characteristic dimension b [W/m²K].
//
//	dt + z/2 <  B': U = 2 lambda/(pi B' + dt + z/2) ln(pi B'/(dt + z/2) + 1)
//	dt + z/2 >= B': U = lambda/(0.457 B' + dt + z/2)
func (f Footprint) floorU(b float64) float64 {
	d := f.equivalent() + f.Depth/2
	if d < b {
		return 2 * f.K / (math.Pi*b + d) * math.Log(math.Pi*b/d+1)
	}
	return f.K / (0.457*b + d)
}

// wallU is the transmittance of the walls below grade [W/m²K].
//
//	U = 2 lambda/(pi z) (1 + 0.5 dt/(dt + z)) ln(z/dw + 1),  dw = lambda (Rsi + Rw + Rse), dt = dw where dw < dt
func (f Footprint) wallU() float64 {
	dw := f.K * (wallFilm + f.RWall + outdoorFilm)
	dt := min(f.equivalent(), dw)
	return 2 * f.K / (math.Pi * f.Depth) * (1 + 0.5*dt/(dt+f.Depth)) * math.Log(f.Depth/dw+1)
}

func (f Footprint) check() error {
	if !(f.Breadth > 0 && f.Length > 0 && f.K > 0) || !finite(f.Breadth, f.Length, f.K) {
		return fmt.Errorf("floor is %g by %g m on ground of %g W/mK, must be above 0", f.Breadth, f.Length, f.K)
	}
	if !(f.Depth >= 0 && f.Wall >= 0 && f.RFloor >= 0 && f.RWall >= 0) || !finite(f.Depth, f.Wall, f.RFloor, f.RWall) {
		return fmt.Errorf("floor is %g m deep in walls of %g m, insulated by %g and %g m²K/W, must be at least 0", f.Depth, f.Wall, f.RFloor, f.RWall)
	}
	return nil
}
