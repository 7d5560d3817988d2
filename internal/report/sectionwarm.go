package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/winter"
)

// SectionLowest fills in the section with the lowest of a winter: what is painted, what is named, and how deep snow lay.
func (t Teller) SectionLowest(a *winter.Answer) drawing.Section {
	h := a.House
	s := t.Section(h, a)
	s.Title = "Lowest temperature of each place, looking " + compass(h.Facing+math.Pi/2)
	s.Sentence = ""
	s.Warm = append(s.Warm, warmAir(a)...)
	s.Warm = append(s.Warm, warmSoil(a)...)
	s.Warm = append(s.Warm, warmWater(a)...)
	s.Warm = append(s.Warm, warmFaces(a)...)
	s.Warm = append(s.Warm, warmLeaves(a)...)
	s.Places = append(coldestLeaves(a), slices.DeleteFunc(s.Places, func(p drawing.Place) bool {
		return strings.HasPrefix(p.Label, "leaf tips") || strings.Contains(p.Label, ", leaf tips")
	})...)
	for i := range a.Places {
		p := &a.Places[i]
		if f := faceOf(h, p); f != nil && f.Glass != nil && f.End == 0 && !hole(h, faceIndex(h, f)) {
			m := f.Mid()
			s.Places = append(s.Places, drawing.Place{At: drawing.Point(m), Label: p.Name, LowestC: p.LowestC})
		}
	}
	s.SnowM, s.SnowByM = DeepestSnow(a)
	s.SnowWords = deepest
	return s
}

// coldestLeaves are the coldest strip of each bed; the others have their colour.
func coldestLeaves(a *winter.Answer) []drawing.Place {
	var list []drawing.Place
	for _, b := range a.House.Beds {
		best := -1
		for i := range a.Places {
			if p := &a.Places[i]; p.Kind == greenhouse.LeafPlace && isLeafOf(p.Name, b.Name) && (best < 0 || p.LowestC < a.Places[best].LowestC) {
				best = i
			}
		}
		if best >= 0 {
			tr := &a.Result.Traces[best]
			list = append(list, drawing.Place{At: drawing.Point{X: tr.X, Z: (tr.Z + b.Z) / 2}, Label: a.Places[best].Name, LowestC: a.Places[best].LowestC})
		}
	}
	return list
}

// isLeafOf tells whether a place is the leaf tips of a bed or of one of its strips.
func isLeafOf(place, bed string) bool {
	return place == bed+", leaf tips" || strings.HasPrefix(place, bed+", leaf tips, ")
}

// boards are the sheets of insulation in the ground.
func boards(h *house.House) []drawing.Strip {
	var list []drawing.Strip
	for _, b := range h.Plan.Ground.Boards {
		x, out := h.Front, -1.0
		if b.At == "back" {
			x, out = h.Back, 1
		}
		x1, z0, z1 := x+out*b.Reach, -b.Depth-b.Thickness, -b.Depth
		if b.Lay != "lying" {
			x1, z0, z1 = x+out*b.Thickness, -b.Reach, 0
		}
		list = append(list, drawing.Strip{Part: drawing.Part{Name: fmt.Sprintf("%s board in the ground", b.Lay), Outline: box(min(x, x1), z0, max(x, x1), z1)}, Hatch: hatchOf(house.Layer{})})
	}
	return list
}

// warmAir are the layers of air, each up to where the next begins: their places are the middles.
func warmAir(a *winter.Answer) []drawing.Warm {
	h := a.House
	x0, x1 := span2(h)
	z := h.FloorZ
	if h.Sink {
		z = h.SinkZ
	}
	var list []drawing.Warm
	for i := range a.Places {
		p := &a.Places[i]
		if p.Kind != greenhouse.AirPlace {
			continue
		}
		top := 2*a.Result.Traces[i].Z - z
		list = append(list, drawing.Warm{Name: p.Name, Kind: drawing.Air, Outline: box(x0, z, x1, top), LowestC: p.LowestC})
		z = top
	}
	return list
}

// span2 are the sides of the room at its widest [m].
func span2(h *house.House) (x0, x1 float64) {
	x0, x1 = math.Inf(1), math.Inf(-1)
	for _, p := range h.Section {
		x0, x1 = math.Min(x0, p.X), math.Max(x1, p.X)
	}
	return x0, x1
}

// warmSoil are the beds, in layers that end half way between the depths that a run records.
func warmSoil(a *winter.Answer) []drawing.Warm {
	var list []drawing.Warm
	for _, b := range a.House.Beds {
		var at []int
		for i := range a.Places {
			if p := &a.Places[i]; p.Kind == greenhouse.SoilPlace && strings.HasPrefix(p.Name, b.Name+", soil ") {
				at = append(at, i)
			}
		}
		above := 0.0
		for k, i := range at {
			d := a.Places[i].DepthM
			below := d + (d-above)/2
			if k+1 < len(at) {
				below = (d + a.Places[at[k+1]].DepthM) / 2
			}
			list = append(list, drawing.Warm{Name: a.Places[i].Name, Kind: drawing.Soil, Outline: box(b.X0, b.Z-below, b.X1, b.Z-above), LowestC: a.Places[i].LowestC})
			above = below
		}
	}
	return list
}

// warmWater are the layers of water of each row, the colder of bays that stand behind each other.
func warmWater(a *winter.Answer) []drawing.Warm {
	var list []drawing.Warm
	for _, r := range a.House.Rows {
		var layers []drawing.Warm
		var mids []float64
		for i := range a.Places {
			p, tr := &a.Places[i], &a.Result.Traces[i]
			if p.Kind != greenhouse.WaterPlace || tr.X != r.X || tr.Z < r.Base || tr.Z > r.Top {
				continue
			}
			if k := slices.IndexFunc(mids, func(z float64) bool { return math.Abs(z-tr.Z) < 1e-6 }); k >= 0 {
				layers[k].LowestC = math.Min(layers[k].LowestC, p.LowestC)
				continue
			}
			mids = append(mids, tr.Z)
			layers = append(layers, drawing.Warm{Name: p.Name, Kind: drawing.Store, LowestC: p.LowestC})
		}
		for k := range layers {
			low, high := r.Base, r.Top
			for _, z := range mids {
				if z < mids[k] {
					low = math.Max(low, (z+mids[k])/2)
				} else if z > mids[k] {
					high = math.Min(high, (z+mids[k])/2)
				}
			}
			layers[k].Outline = box(r.X-r.Diameter/2, low, r.X+r.Diameter/2, high)
		}
		list = append(list, layers...)
	}
	return list
}

// faceOf is the face that a place of the inner side of a face belongs to; nil for other places.
func faceOf(h *house.House, p *winter.Place) *house.Face {
	name, ok := strings.CutSuffix(p.Name, ", inner face")
	if p.Kind != greenhouse.FacePlace || !ok {
		return nil
	}
	return h.Face(name)
}

func faceIndex(h *house.House, f *house.Face) int {
	for i := range h.Faces {
		if &h.Faces[i] == f {
			return i
		}
	}
	return 0
}

// warmFaces are the inner sides of the edges of the section.
func warmFaces(a *winter.Answer) []drawing.Warm {
	var list []drawing.Warm
	for i := range a.Places {
		p := &a.Places[i]
		f := faceOf(a.House, p)
		if f == nil || f.End != 0 || hole(a.House, faceIndex(a.House, f)) {
			continue
		}
		kind := drawing.Other
		if f.Glass != nil {
			kind = drawing.Glazing
		}
		list = append(list, drawing.Warm{Name: p.Name, Kind: kind, Outline: []drawing.Point{drawing.Point(f.A), drawing.Point(f.B)}, LowestC: p.LowestC})
	}
	return list
}

// warmLeaves are the plants of each strip of each bed.
func warmLeaves(a *winter.Answer) []drawing.Warm {
	var list []drawing.Warm
	for _, b := range a.House.Beds {
		for i := range a.Places {
			p := &a.Places[i]
			if p.Kind != greenhouse.LeafPlace || !isLeafOf(p.Name, b.Name) {
				continue
			}
			half := (b.X1 - b.X0) / 2
			for k := range a.Result.Strips { // how wide the strip is, where its middle lies
				if s := &a.Result.Strips[k]; s.Bed == b.Name && math.Abs((s.X0+s.X1)/2-a.Result.Traces[i].X) < 1e-6 {
					half = (s.X1 - s.X0) / 2
				}
			}
			x := a.Result.Traces[i].X
			list = append(list, drawing.Warm{Name: p.Name, Kind: drawing.Leaf, Outline: box(x-half, b.Z, x+half, b.LeafZ), LowestC: p.LowestC})
		}
	}
	return list
}
