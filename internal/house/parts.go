package house

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/glazing"
	"suncellar/internal/material"
	"suncellar/internal/plan"
)

func pathIndex(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

// key turns "dark blue" into the library's dark_blue.
func key(name string) string { return strings.ReplaceAll(strings.TrimSpace(name), " ", "_") }

// builds resolves every build of the plan.
func (r *resolver) builds() {
	r.build = map[string]*Build{}
	for name, b := range r.p.Builds {
		out := &Build{Name: name, Inside: b.Inside, Outside: b.Outside}
		if b.RValue != nil {
			out.Layers = []Layer{{Name: "given resistance", R: *b.RValue}}
		}
		for i, l := range b.Layers {
			out.Layers = append(out.Layers, r.layer(l, pathIndex("builds."+name+".layers", i)))
		}
		r.build[name] = out
	}
}

func (r *resolver) layer(l plan.Layer, path string) Layer {
	if l.RValue != nil {
		return Layer{Name: "given resistance", R: *l.RValue, Thickness: l.Thickness}
	}
	m, ok := r.p.Materials[l.Material]
	if !ok {
		lib, err := material.Lookup(key(l.Material))
		if err != nil {
			r.fail(path+".material", "", "%s", err.Error())
			return Layer{}
		}
		m = plan.Material{Conductivity: lib.ConductivityWMK, Density: lib.DensityKgM3, SpecificHeat: lib.SpecificHeatJKgK}
	}
	return Layer{Name: l.Material, Thickness: l.Thickness, Conductivity: m.Conductivity,
		VolumeHeat: m.Density * m.SpecificHeat, R: l.Thickness / m.Conductivity}
}

func (r *resolver) buildOf(name, path string) *Build {
	if b, ok := r.build[name]; ok {
		return b
	}
	r.fail(path, "write it under builds:", "no build is called %q", name)
	return &Build{Name: name, Layers: []Layer{{R: 1}}}
}

// ownGlazing makes a stack of the user's panes, or of bare numbers.
func ownGlazing(g plan.Glazing) (glazing.Stack, error) {
	if len(g.Panes) == 0 {
		return glazing.FromNumbers(glazing.Numbers{NormalTransmittance: *g.Transmittance, UWM2K: *g.UValue, Sheets: g.Sheets})
	}
	var s glazing.Stack
	for _, p := range g.Panes {
		s.Sheets = append(s.Sheets, glazing.Sheet{Index: p.Index, ExtinctionPerM: p.Extinction, ThicknessM: p.Thickness, ConductivityWMK: p.Conductivity,
			EmittanceOuter: p.Emittance, EmittanceInner: p.Emittance, HeatJM2K: p.Density * p.SpecificHeat * p.Thickness})
	}
	for _, gap := range g.Gaps {
		out := glazing.Gap{ThicknessM: gap.Thickness}
		if gap.Coefficient != nil {
			out.FixedWM2K = *gap.Coefficient
		}
		s.Gaps = append(s.Gaps, out)
	}
	return s, s.Check()
}

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

// openings takes windows and doors out of their faces and adds them as faces of their own.
func (r *resolver) openings() {
	for i, w := range r.p.Windows {
		path := pathIndex("windows", i)
		if f := r.hole(path, w.Name, w.In, w.Width*w.Height*float64(w.Count)); f != nil {
			f.Build = nil
			r.glaze(f, w.Glazing, path+".glazing")
			r.h.Faces = append(r.h.Faces, *f)
		}
	}
	for i, d := range r.p.Doors {
		if f := r.hole(pathIndex("doors", i), d.Name, d.In, d.Width*d.Height); f != nil {
			// the U of a leaf is declared with both films
			f.Build = &Build{Name: d.Name, Layers: []Layer{{Name: "door leaf", R: max(0.02, 1/d.UValue-0.17)}},
				Inside: plan.Finish{Absorptance: 0.6, Emittance: 0.9}, Outside: plan.Finish{Absorptance: 0.6, Emittance: 0.9}}
			f.Door = true
			r.h.Faces = append(r.h.Faces, *f)
		}
	}
}

// hole cuts an area out of the part above grade of a face or end wall; the copy it gives back has that area.
func (r *resolver) hole(path, name, in string, area float64) *Face {
	for i := range r.h.Faces {
		host := &r.h.Faces[i]
		if host.Of != in || host.Behind == Soil || host.Glass != nil && host.Of != in {
			continue
		}
		if host.Area-area < 0.005*area {
			r.fail(path, "make it smaller", "%s has %.2f m², but %s has only %.2f m² left above grade", name, area, in, host.Area)
			return nil
		}
		host.Area -= area
		f := *host
		f.Name, f.Area, f.Glass, f.Glazing = name, area, nil, ""
		return &f
	}
	r.fail(path, "windows and doors go into a face above grade", "%s has no part above grade to hold %s", in, name)
	return nil
}

func (r *resolver) beds() {
	h := r.h
	x0 := frontXOf(h)
	for i, b := range r.p.Beds {
		z := h.FloorZ + b.Level
		bed := Bed{Name: b.Name, X0: x0 + b.From, X1: x0 + b.To, Z: z, LeafZ: z + b.Leaf, Planted: b.Planted}
		bed.Area = (bed.X1 - bed.X0) * h.Length
		if !inside(h.Section, Point{(bed.X0 + bed.X1) / 2, bed.LeafZ}) {
			r.fail(pathIndex("beds", i), "lower the bed or the leaves, or move it back", "the leaves of %s, %.2f m above the floor, are not inside the house", b.Name, bed.LeafZ-h.FloorZ)
		}
		floor, ok := h.floorUnder(bed.X0, bed.X1)
		if !ok {
			r.fail(pathIndex("beds", i), "a bed lies on the level floor, clear of the cold sink", "%s, %.2f to %.2f m from the front wall, does not lie on the level floor", b.Name, b.From, b.To)
		} else if h.Faces[floor].Behind != Soil {
			r.fail(pathIndex("beds", i), "a bed's soil is reckoned with the ground: let the floor lie on soil", "%s lies on a floor with no soil under it", b.Name)
		}
		h.Beds = append(h.Beds, bed)
	}
}

// floorUnder finds the level floor face, by index, that spans x0..x1.
func (h *House) floorUnder(x0, x1 float64) (int, bool) {
	for i := range h.Faces {
		f := &h.Faces[i]
		if f.End == 0 && f.Tilt > math.Pi-1e-6 && math.Abs(f.A.Z-h.FloorZ) < 1e-9 && x0 >= f.A.X-1e-9 && x1 <= f.B.X+1e-9 {
			return i, true
		}
	}
	return 0, false
}

func frontXOf(h *House) float64 {
	x := math.Inf(1)
	for _, p := range h.Section {
		if math.Abs(p.Z-h.FloorZ) < 1e-9 {
			x = min(x, p.X)
		}
	}
	return x
}

func inside(poly []Point, at Point) bool {
	in := false
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		if (p.Z > at.Z) != (q.Z > at.Z) && at.X < p.X+(q.X-p.X)*(at.Z-p.Z)/(q.Z-p.Z) {
			in = !in
		}
	}
	return in
}

// drums are the words of the plan for vessels of the library.
var drums = map[string]string{"drum 55 gal": "drum_55gal_plastic", "steel drum 55 gal": "drum_55gal_steel",
	"tote 275 gal": "tote_275gal", "tote 330 gal": "tote_330gal"}

// DrumNames are the sizes that a plan may name.
func DrumNames() []string {
	return []string{"drum 55 gal", "steel drum 55 gal", "tote 275 gal", "tote 330 gal"}
}

func (r *resolver) store() {
	if r.p.Store == nil {
		return
	}
	h := r.h
	for i, d := range r.p.Store.Rows {
		path := pathIndex("store.rows", i)
		row := Row{Name: d.Name, Drums: d.Drums, Bays: d.Bays, Tiers: d.Tiers, Fill: d.Fill, X: frontXOf(h) + d.At, Base: h.FloorZ + d.Base, StartC: d.Start}
		row.Wall = Layer{Name: "hdpe", Thickness: 0.003, Conductivity: 0.45, R: 0.003 / 0.45}
		if d.Diameter != nil && d.Height != nil {
			row.Diameter, row.Height = *d.Diameter, *d.Height
			row.Volume = math.Pi / 4 * math.Pow(row.Diameter-0.006, 2) * (row.Height - 0.006)
		} else {
			v, err := material.LookupVessel(drums[d.Size])
			if err != nil {
				r.fail(path+".size", "", "drum size %q is not known, must be one of %s", d.Size, strings.Join(DrumNames(), ", "))
				continue
			}
			row.Height, row.Volume = v.HeightM, v.VolumeM3
			row.Diameter = 2 * math.Sqrt(v.FootprintM2()/math.Pi)
			if m, err := material.Lookup(v.Wall); err == nil {
				row.Wall = Layer{Name: v.Wall, Thickness: v.WallM, Conductivity: m.ConductivityWMK, R: v.WallM / m.ConductivityWMK}
			}
		}
		row.Top = row.Base + float64(d.Tiers)*row.Height
		row.Absorptance = 0.92
		if s, err := material.LookupSurface(key(d.Colour)); err == nil {
			row.Absorptance = s.Absorptance
		}
		if d.Drums > 0 && !inside(h.Section, Point{row.X, row.Top}) {
			r.fail(path, "move the row or take off a tier", "the top of %s, %.2f m above the floor, is not inside the house at %.2f m from the front wall", d.Name, row.Top-h.FloorZ, d.At)
		}
		if along := math.Ceil(float64(d.Drums)/float64(d.Tiers)) * row.Diameter; along > h.Length+1e-6 {
			r.fail(path+".drums", "a row stands along the house, tier upon tier", "%d drums in %d tiers take %.2f m, the house is %.2f m long", d.Drums, d.Tiers, along, h.Length)
		}
		if d.Bays > max(1, d.Drums) {
			r.fail(path+".bays", "", "%d bays for %d drums, must be at most as many", d.Bays, d.Drums)
		}
		h.Rows = append(h.Rows, row)
	}
}

// sums makes the areas and volumes of the whole.
func (r *resolver) sums() {
	h := r.h
	a, _ := polygon(h.Section)
	h.Gross = a * h.Length
	h.Volume = h.Gross
	for _, b := range h.Beds {
		h.Volume -= b.Area * (b.Z - h.FloorZ)
	}
	for _, row := range h.Rows {
		h.Volume -= float64(row.Drums) * row.Volume
	}
	for i := range h.Faces {
		if f := &h.Faces[i]; f.End == 0 && f.Tilt > math.Pi-1e-6 {
			h.Floor += f.Area
		}
	}
	if h.Volume < 0.2*h.Gross {
		r.fail("store", "take out drums", "drums and beds fill the house: %.1f m³ of air are left of %.1f m³", h.Volume, h.Gross)
	}
}

// GlazedArea is the area of all glazing [m²], frames counted in.
func (h *House) GlazedArea() float64 {
	sum := 0.0
	for i := range h.Faces {
		if h.Faces[i].Glass != nil {
			sum += h.Faces[i].Area
		}
	}
	return sum
}

// Water is the volume of all water in the store [m³].
func (h *House) Water() float64 {
	sum := 0.0
	for _, r := range h.Rows {
		sum += r.Water()
	}
	return sum
}

// Face finds a face by name, nil when there is none.
func (h *House) Face(name string) *Face {
	for i := range h.Faces {
		if h.Faces[i].Name == name {
			return &h.Faces[i]
		}
	}
	return nil
}

// Envelope is the area of everything that touches outdoor air [m²]: what joints leak through.
func (h *House) Envelope() float64 {
	sum := 0.0
	for i := range h.Faces {
		if h.Faces[i].Behind == Air {
			sum += h.Faces[i].Area
		}
	}
	return sum
}

// Between gives the air between two heights: its volume, beds and drums taken out [m³], and the area of its top [m²].
func (h *House) Between(z0, z1 float64) (volume, top float64) {
	part := clip(clip(h.Section, z0, true), z1, false)
	a, _ := polygon(part)
	volume = a * h.Length
	for _, b := range h.Beds {
		volume -= b.Area * math.Max(0, math.Min(b.Z, z1)-math.Max(h.FloorZ, z0))
	}
	for _, r := range h.Rows {
		if r.Top > r.Base {
			volume -= float64(r.Drums) * r.Volume * math.Max(0, math.Min(r.Top, z1)-math.Max(r.Base, z0)) / (r.Top - r.Base)
		}
	}
	return math.Max(volume, 0.05*a*h.Length), h.WidthAt(z1-1e-6) * h.Length
}

// WidthAt is the width of the room at a height [m].
func (h *House) WidthAt(z float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, p := range h.Section {
		q := h.Section[(i+1)%len(h.Section)]
		if (p.Z-z)*(q.Z-z) <= 0 && p.Z != q.Z {
			x := p.X + (q.X-p.X)*(z-p.Z)/(q.Z-p.Z)
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
	}
	if hi <= lo {
		return 0
	}
	return hi - lo
}

// BedsAlong are the beds on the floor between x0 and x1, from the front.
func (h *House) BedsAlong(x0, x1 float64) []Bed {
	var out []Bed
	for _, b := range h.Beds {
		if b.X0 >= x0-1e-9 && b.X1 <= x1+1e-9 {
			out = append(out, b)
		}
	}
	slices.SortFunc(out, func(a, b Bed) int { return cmp.Compare(a.X0, b.X0) })
	return out
}

// Uncovered are the pieces of a level floor that no bed lies on.
func (h *House) Uncovered(f *Face) [][2]Point {
	var out [][2]Point
	x := f.A.X
	for _, b := range h.BedsAlong(f.A.X, f.B.X) {
		if b.X0 > x+1e-9 {
			out = append(out, [2]Point{{x, f.A.Z}, {b.X0, f.A.Z}})
		}
		x = b.X1
	}
	if f.B.X > x+1e-9 {
		out = append(out, [2]Point{{x, f.A.Z}, f.B})
	}
	return out
}

// BuildR is the resistance of the build of a face or edge [m²K/W]; 0 when it has none.
func (h *House) BuildR(of string) float64 {
	for i := range h.Faces {
		if f := &h.Faces[i]; f.Of == of && f.Build != nil && !f.Door {
			return f.Build.R()
		}
	}
	return 0
}

// Top is the highest point of the room [m above grade].
func (h *House) Top() float64 {
	_, z := span(h.Section)
	return z
}
