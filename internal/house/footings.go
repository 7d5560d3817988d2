package house

import (
	"math"

	"suncellar/internal/plan"
)

// Footing is a strip in the ground along the house that a wall or a row of drums stands on. It conducts; whether it carries is nobody's
// promise here.
type Footing struct {
	Plan  *plan.Footing
	Layer Layer      // its material
	Boxes [][4]Point // its section: one box, or two where the floor's layers lie on its inner part; corners anticlockwise from the lower front
}

// Low is its underside [m above grade].
func (f *Footing) Low() float64 { return f.Boxes[0][0].Z }

func box(x0, z0, x1, z1 float64) [4]Point {
	return [4]Point{{x0, z0}, {x1, z0}, {x1, z1}, {x0, z1}}
}

// footings lays each under its wall or row. What cannot be is told.
func (r *resolver) footings() {
	for i := range r.p.Ground.Footings {
		path := pathIndex("ground.footings", i)
		f := Footing{Plan: &r.p.Ground.Footings[i]}
		f.Layer = r.layer(plan.Layer{Material: f.Plan.Material, Thickness: f.Plan.Thickness}, path)
		laid := false
		switch f.Plan.Under {
		case plan.FrontWall, plan.BackWall:
			laid = r.underWall(path, &f)
		default:
			laid = r.underRow(path, &f)
		}
		if laid && r.footingClear(path, &f) {
			r.h.Footings = append(r.h.Footings, f)
		}
	}
}

// underWall lays a footing under the foot of a wall, its middle under the wall's. The floor's layers lie on its inner part.
func (r *resolver) underWall(path string, f *Footing) bool {
	h := r.h
	wall, corner, out := r.wallFoot(f.Plan.Under == plan.BackWall)
	switch {
	case wall == nil || h.FloorZ > 1e-9:
		r.fail(path+".under", "a footing lies under the foot of a wall that stands in or on the ground", "no %s stands on the ground", f.Plan.Under)
		return false
	case wall.Build == nil:
		r.fail(path+".under", "give the wall a build, or leave the footing out", "the %s has no build to stand on a footing", f.Plan.Under)
		return false
	}
	thick := offset(wall, wall.Build.Thickness())
	if f.Plan.Width < thick-1e-9 {
		r.fail(path+".width", "a footing is as wide as its wall or wider", "the footing under the %s is %.2f m wide, the wall %.2f m thick", f.Plan.Under, f.Plan.Width, thick)
		return false
	}
	toe := (f.Plan.Width - thick) / 2 // how far it sticks out on each side
	low, face := h.FloorZ-f.Plan.Thickness, corner.X+out*thick
	x0, x1 := math.Min(corner.X, face+out*toe), math.Max(corner.X, face+out*toe)
	f.Boxes = [][4]Point{box(x0, low, x1, h.FloorZ)}
	if top := h.FloorZ - r.floorThickness(corner.X-out*1e-3); top > low+1e-9 && toe > 1e-9 {
		x0, x1 = math.Min(corner.X, corner.X-out*toe), math.Max(corner.X, corner.X-out*toe)
		f.Boxes = append(f.Boxes, box(x0, low, x1, top))
	}
	return true
}

// wallFoot is the wall that rises from the front or the back end of the floor, the corner it rises from, and which way is out; nil where there is none.
func (r *resolver) wallFoot(back bool) (wall *Face, corner Point, out float64) {
	h := r.h
	corner, out = Point{frontXOf(h), h.FloorZ}, -1
	if back {
		corner, out = Point{math.Inf(-1), h.FloorZ}, 1
		for _, p := range h.Section {
			if math.Abs(p.Z-h.FloorZ) < 1e-9 {
				corner.X = math.Max(corner.X, p.X)
			}
		}
	}
	for i := range h.Faces {
		f := &h.Faces[i]
		foot := f.A
		if f.B.Z < f.A.Z {
			foot = f.B
		}
		if f.End == 0 && f.Tilt < 3*math.Pi/4 && math.Hypot(foot.X-corner.X, foot.Z-corner.Z) < 1e-9 {
			return f, corner, out
		}
	}
	return nil, corner, out
}

// floorThickness is that of the layers of the level floor at x [m].
func (r *resolver) floorThickness(x float64) float64 {
	if i, ok := r.h.floorUnder(x, x); ok && r.h.Faces[i].Build != nil {
		return r.h.Faces[i].Build.Thickness()
	}
	return 0
}

// underRow lays a footing under a row of drums, below the layers of the floor.
func (r *resolver) underRow(path string, f *Footing) bool {
	h := r.h
	for _, row := range h.Rows {
		if row.Name != f.Plan.Under {
			continue
		}
		x0, x1 := row.X-f.Plan.Width/2, row.X+f.Plan.Width/2
		i, ok := h.floorUnder(x0, x1)
		if !ok || h.Faces[i].Behind != Soil {
			r.fail(path+".width", "it lies within the level floor, on soil, clear of the walls and the cold sink", "the footing under %s, %.2f to %.2f m behind the front wall, does not lie under the level floor",
				row.Name, x0-frontXOf(h), x1-frontXOf(h))
			return false
		}
		top := h.FloorZ - r.floorThickness(row.X)
		f.Boxes = [][4]Point{box(x0, top-f.Plan.Thickness, x1, top)}
		return true
	}
	return false // the plan was checked
}

// footingClear holds a footing to the earth: below the room, clear of tubes, within the ground that is reckoned.
func (r *resolver) footingClear(path string, f *Footing) bool {
	h := r.h
	soil := false
	for i := range h.Faces {
		soil = soil || h.Faces[i].Behind == Soil && h.Faces[i].End == 0
	}
	before := len(r.bad)
	if !soil {
		r.fail(path, "footings are reckoned in the earth that the house stands in", "the footing under %s lies in no earth: no face of the house touches soil", f.Plan.Under)
	}
	if low := f.Low(); low <= h.Bottom() {
		r.fail(path+".thickness", "make it thinner, or set ground.reach higher", "the footing under %s reaches %.2f m below grade, the ground is reckoned to %.2f m", f.Plan.Under, -low, -h.Bottom())
	} else if w := r.p.Site.WaterTable; w != nil && low < -*w {
		r.fail(path+".thickness", "the ground is reckoned down to the ground water alone", "the footing under %s reaches %.2f m below grade, the ground water stands at %.2f m", f.Plan.Under, -low, *w)
	}
	for _, b := range f.Boxes {
		if overlap(h.Section, b) > 1e-6 {
			r.fail(path, "make it narrower or thinner, or move the cold sink", "the footing under %s cuts through the room", f.Plan.Under)
		}
		for _, t := range h.Tubes {
			for _, at := range t.Lanes {
				if at.X > b[0].X-t.Outer && at.X < b[2].X+t.Outer && at.Z > b[0].Z-t.Outer && at.Z < b[2].Z+t.Outer {
					r.fail(path, "move the tubes or the footing", "a tube of %s, %.2f m under grade, lies in the footing under %s", t.Plan.Name, -at.Z, f.Plan.Under)
					return false
				}
			}
		}
	}
	return len(r.bad) == before
}

// overlap is the area that a polygon and a box have in common [m²].
func overlap(poly []Point, b [4]Point) float64 {
	part := clip(clip(poly, b[0].Z, true), b[2].Z, false)
	turned := make([]Point, len(part)) // x and z exchanged, so that the same cuts serve for x
	for i, p := range part {
		turned[i] = Point{p.Z, p.X}
	}
	area, _ := polygon(clip(clip(turned, b[0].X, true), b[2].X, false))
	return area
}
