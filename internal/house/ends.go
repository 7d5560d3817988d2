package house

import (
	"math"

	"suncellar/internal/plan"
)

// ends adds the two end walls, split at grade.
func (r *resolver) ends() {
	for _, side := range []struct {
		end  int
		name string
		wall *plan.EndWall
		turn float64
	}{{-1, plan.LeftEnd, r.p.Ends.Left, -math.Pi / 2}, {1, plan.RightEnd, r.p.Ends.Right, math.Pi / 2}} {
		build, behind := r.p.Ends.Build, plan.Behind{}
		if side.wall != nil {
			behind = side.wall.Behind
			if side.wall.Build != "" {
				build = side.wall.Build
			}
		}
		if build == "" {
			r.fail("ends.build", "name a build", "%s has no build", side.name)
			return
		}
		above, below := clip(r.h.Section, 0, true), clip(r.h.Section, 0, false)
		for _, half := range []struct {
			poly []Point
			word string
		}{{above, " above grade"}, {below, " below grade"}} {
			a, c := polygon(half.poly)
			if a < 1e-6 {
				continue
			}
			name := side.name
			if len(above) > 2 && len(below) > 2 {
				name += half.word
			}
			f := Face{Name: name, Of: side.name, A: c, B: c, End: side.end, Area: a, Tilt: math.Pi / 2, Azimuth: turn(r.h.Facing + side.turn)}
			f.Z0, f.Z1 = span(half.poly)
			f.Behind, f.FixedC = r.behind(behind, c.Z, 0)
			f.Build = r.buildOf(build, "ends.build")
			r.h.Faces = append(r.h.Faces, f)
		}
	}
}

// clip keeps what lies above (or below) height z of a polygon.
func clip(poly []Point, z float64, above bool) []Point {
	in := func(p Point) bool { return (p.Z >= z) == above || p.Z == z }
	var out []Point
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		if in(p) {
			out = append(out, p)
		}
		if (p.Z-z)*(q.Z-z) < 0 {
			f := (z - p.Z) / (q.Z - p.Z)
			out = append(out, Point{p.X + f*(q.X-p.X), z})
		}
	}
	return out
}

// polygon gives area and middle of a simple polygon.
func polygon(poly []Point) (area float64, middle Point) {
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		w := p.X*q.Z - q.X*p.Z
		area += w / 2
		middle.X += (p.X + q.X) * w / 6
		middle.Z += (p.Z + q.Z) * w / 6
	}
	if math.Abs(area) < 1e-9 {
		return 0, Point{}
	}
	middle.X /= area
	middle.Z /= area
	return math.Abs(area), middle
}

func span(poly []Point) (z0, z1 float64) {
	z0, z1 = math.Inf(1), math.Inf(-1)
	for _, p := range poly {
		z0, z1 = min(z0, p.Z), max(z1, p.Z)
	}
	return z0, z1
}
