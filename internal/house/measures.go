package house

import (
	"cmp"
	"math"
	"slices"
)

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

// EarthR is the resistance of the builds that touch the soil, level and upright faces apart, each the mean by area of what its faces
// conduct [m²K/W]; 0 where the earth is bare or there is no such face.
func (h *House) EarthR() (level, upright float64) {
	var area, through [2]float64
	for i := range h.Faces {
		f := &h.Faces[i]
		if f.Behind != Soil || f.End != 0 {
			continue
		}
		k, r := 0, 0.0
		if f.Tilt < 3*math.Pi/4 {
			k = 1
		}
		if f.Build != nil {
			r = f.Build.R()
		}
		area[k] += f.Area
		through[k] += f.Area / (r + bareR)
	}
	for k := range area {
		if area[k] > 0 {
			through[k] = math.Max(0, area[k]/through[k]-bareR)
		}
	}
	return through[0], through[1]
}

// bareR stands for the earth itself when faces of different builds are taken together [m²K/W].
const bareR = 0.5

// Top is the highest point of the room [m above grade].
func (h *House) Top() float64 {
	_, z := span(h.Section)
	return z
}

// Dug is the volume of earth that the room takes the place of: the section below grade times the length, walls and slopes not counted in [m³].
func (h *House) Dug() float64 {
	below, _ := polygon(clip(h.Section, 0, false))
	return math.Abs(below) * h.Length
}
