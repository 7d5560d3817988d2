package house

import (
	"math"

	"suncellar/internal/plan"
)

// Tubes is a row of equal buried tubes.
type Tubes struct {
	Plan          *plan.Tube
	Lanes         []Point // where each length of tube along the house lies in the section, upper tier first; its axis [m]
	Lane          float64 // length of one of them along the house [m]
	Outer         float64 // radius of a tube outside [m]
	Inlet, Outlet TubeEnd
}

// TubeEnd is an opening of buried tubes.
type TubeEnd struct {
	Outdoors bool
	Z        float64 // [m]
}

func (r *resolver) tubes() {
	for i := range r.p.Tubes {
		path := pathIndex("tubes", i)
		t := Tubes{Plan: &r.p.Tubes[i], Outer: r.p.Tubes[i].Diameter/2 + r.p.Tubes[i].Wall}
		if r.tubeSoil(path, &t) && r.tubeRow(path, &t) {
			r.tubeDepth(path, &t)
			t.Inlet = r.tubeEnd(path+".inlet", t.Plan.Inlet, &t)
			t.Outlet = r.tubeEnd(path+".outlet", t.Plan.Outlet, &t)
		}
		r.h.Tubes = append(r.h.Tubes, t)
	}
}

// tubeSoil tells whether there is earth for them.
func (r *resolver) tubeSoil(path string, t *Tubes) bool {
	earth := false
	for i := range r.h.Faces {
		earth = earth || r.h.Faces[i].Behind == Soil && r.h.Faces[i].End == 0
	}
	if !earth || t.Plan.Under == "floor" && r.h.FloorZ > 1e-9 {
		r.fail(path+".under", "tubes are reckoned in the earth that the house stands in", "%s lies in no earth: no face of the house touches soil there", t.Plan.Name)
		return false
	}
	return true
}

// tubeRow lays the tubes side by side; those longer than the house lie to and fro.
func (r *resolver) tubeRow(path string, t *Tubes) bool {
	p, h := t.Plan, r.h
	turns := math.Max(1, math.Ceil(p.Length/h.Length-1e-9))
	lanes := p.Count * int(turns)
	t.Lane = p.Length / turns
	across := (lanes + p.Tiers - 1) / p.Tiers
	breadth := float64(across-1)*p.Spacing + 2*t.Outer
	from, to, middle, top := r.tubeGround(p, breadth)
	if middle-breadth/2 < from-1e-9 || middle+breadth/2 > to+1e-9 {
		r.fail(path, "fewer tubes, more tiers or less spacing; or move the row",
			"%d lengths of tube side by side in %d tiers take %.2f m, from %.2f to %.2f m behind the front wall, must lie between %.2f and %.2f m",
			lanes, p.Tiers, breadth, middle-breadth/2, middle+breadth/2, from, to)
		return false
	}
	for i := range lanes {
		in := min(across, lanes-i/across*across) // of this tier
		x := middle + (float64(i%across)-float64(in-1)/2)*p.Spacing
		z := top - p.Depth - float64(i/across)*p.Spacing
		t.Lanes = append(t.Lanes, Point{x, z})
	}
	return true
}

// tubeGround is the stretch that tubes may lie in, where the middle of the row is, and what depth counts from [m].
func (r *resolver) tubeGround(p *plan.Tube, breadth float64) (from, to, middle, top float64) {
	h, reach := r.h, r.p.Ground.Reach-0.5
	switch p.Under {
	case "outside in front":
		from, to = h.Front-reach, h.Front
		middle = h.Front - rowClear - breadth/2
		if p.At != nil {
			middle = h.Front - *p.At
		}
		return from, to, middle, 0
	case "outside behind":
		from, to = h.Back, h.Back+reach
		middle = h.Back + rowClear + breadth/2
		if p.At != nil {
			middle = h.Back + *p.At
		}
		return from, to, middle, 0
	}
	from, to = math.Inf(1), math.Inf(-1)
	for _, q := range h.Section {
		if math.Abs(q.Z-h.FloorZ) < 1e-9 {
			from, to = math.Min(from, q.X), math.Max(to, q.X)
		}
	}
	middle = (from + to) / 2
	if p.At != nil {
		middle = from + *p.At
	}
	return from, to, middle, h.FloorZ
}

// rowClear is how far a row outside keeps from the wall where nothing is said [m]; own judgement.
const rowClear = 0.5

// tubeCover is the least earth between a tube and the room [m]; own judgement.
const tubeCover = 0.05

func (r *resolver) tubeDepth(path string, t *Tubes) {
	h := r.h
	low := math.Inf(1)
	for _, at := range t.Lanes {
		if inside(h.Section, Point{at.X, at.Z + t.Outer + tubeCover}) {
			r.fail(path+".depth", "lay them deeper, or clear of the cold sink", "a tube of %s, %.2f m under grade and %.2f m behind the front wall, meets the room", t.Plan.Name, -at.Z, at.X)
			return
		}
		low = math.Min(low, at.Z-t.Outer)
	}
	if w := r.p.Site.WaterTable; w != nil && low < -*w {
		r.fail(path+".depth", "tubes in ground water fill or float: lay them higher, or leave them", "%s reaches %.2f m below grade, the ground water stands at %.2f m", t.Plan.Name, -low, *w)
	}
	if bottom := h.Bottom() + 0.5; low < bottom {
		r.fail(path+".depth", "set ground.reach higher", "%s reaches %.2f m below grade, the ground is reckoned to %.2f m", t.Plan.Name, -low, -bottom)
	}
}

func (r *resolver) tubeEnd(path string, o plan.Opening, t *Tubes) TubeEnd {
	h := r.h
	e := TubeEnd{Outdoors: o.In == "outdoors", Z: o.Height}
	low, high, from := 0.0, 10.0, "grade"
	if !e.Outdoors {
		e.Z += h.FloorZ
		low, high, from = math.Min(h.SinkZ, h.FloorZ)-h.FloorZ, h.Top()-h.FloorZ, "the floor"
	}
	if o.Height < low-1e-9 || o.Height > high+1e-9 {
		r.fail(path+".height", "an end opens to the air of the room, or outdoors clear of the ground", "this end of %s is %.2f m above %s, must be %.2f to %.2f m", t.Plan.Name, o.Height, from, low, high)
	} else if top := t.Lanes[0].Z + t.Plan.Diameter/2; e.Z < top {
		r.fail(path+".height", "tubes lie below both their ends", "this end of %s is %.2f m below the top of the tubes", t.Plan.Name, top-e.Z)
	}
	return e
}
