package report

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// FloorPlan fills in the house from above. Where along their walls doors, windows and vents stand a plan does not say: doors are drawn at the
// widest path, the rest spread along their wall. Strips of beds are those of an answer; without one (nil) none are drawn.
func (t Teller) FloorPlan(h *house.House, a *winter.Answer) drawing.FloorPlan {
	x0, x1 := floorSides(h)
	in := drawing.FloorPlan{Title: "Floor plan", Sentence: t.sectionWords(h), Length: h.Length, Width: x1 - x0, Facing: h.Facing * 180 / math.Pi}
	in.Front, in.Back = wallAt(h, x0, -1), wallAt(h, x1, 1)
	in.Left, in.Right = endLayers(h, -1), endLayers(h, 1)
	for _, b := range h.Beds {
		bed := drawing.PlanBed{Name: b.Name, From: b.X0 - x0, To: b.X1 - x0}
		if a != nil {
			for i := range a.Result.Strips {
				if strip := &a.Result.Strips[i]; strip.Bed == b.Name && strip.X0 > b.X0+1e-6 {
					bed.Strips = append(bed.Strips, strip.X0-x0)
				}
			}
		}
		in.Beds = append(in.Beds, bed)
	}
	if h.Sink {
		s0, s1 := sinkSides(h)
		in.Sinks = append(in.Sinks, drawing.PlanBed{Name: "cold sink", From: s0 - x0, To: s1 - x0})
	}
	for _, r := range h.Rows {
		in.Drums = append(in.Drums, drumsAbove(h, r, x0)...)
	}
	if ridge := highest(h); ridge > x0+1e-6 && ridge < x1-1e-6 {
		in.Overhead = append(in.Overhead, drawing.Level{Z: ridge - x0, Name: "ridge"})
	}
	in.Openings = openingsAbove(h, in)
	if len(in.Openings) > 0 {
		in.Notes = append(in.Notes, "Where along its wall an opening stands the plan does not say; heights are in the plan.")
	}
	return in
}

// floorSides are where the floor begins and ends across [m].
func floorSides(h *house.House) (x0, x1 float64) {
	x0, x1 = math.Inf(1), math.Inf(-1)
	for _, p := range h.Section {
		if math.Abs(p.Z-h.FloorZ) < 1e-9 {
			x0, x1 = math.Min(x0, p.X), math.Max(x1, p.X)
		}
	}
	if x1-x0 < 0.05 { // the lowest point is a corner
		return span2(h)
	}
	return x0, x1
}

// highest is where across the section is highest [m].
func highest(h *house.House) float64 {
	best := h.Section[0]
	for _, p := range h.Section {
		if p.Z > best.Z+1e-9 {
			best = p
		}
	}
	return best.X
}

func layersOf(b *house.Build) []drawing.Layer {
	var list []drawing.Layer
	if b == nil {
		return nil
	}
	for _, l := range b.Layers {
		if l.Thickness > 0 {
			list = append(list, drawing.Layer{Name: strings.ReplaceAll(l.Name, "_", " "), Hatch: hatchOf(l), Thickness: l.Thickness})
		}
	}
	return list
}

// wallAt is the upright wall that rises from the floor at x, on the side out.
func wallAt(h *house.House, x, out float64) []drawing.Layer {
	for i := range h.Faces {
		f := &h.Faces[i]
		if f.End == 0 && !f.Door && math.Abs(f.Tilt-math.Pi/2) < 0.6 && (math.Abs(f.A.X-x) < 1e-6 || math.Abs(f.B.X-x) < 1e-6) && (f.B.Z-f.A.Z)*out > 0 && f.Build != nil {
			return layersOf(f.Build)
		}
	}
	return nil
}

func endLayers(h *house.House, end int) []drawing.Layer {
	for i := range h.Faces {
		if f := &h.Faces[i]; f.End == end && !f.Door && f.Build != nil {
			return layersOf(f.Build)
		}
	}
	return nil
}

// drumsAbove are the stacks of a row, side by side in their bays, the row in the middle of the house.
func drumsAbove(h *house.House, r house.Row, x0 float64) []drawing.PlanDrum {
	n := int(math.Ceil(float64(r.Drums) / float64(max(1, r.Tiers))))
	if n == 0 {
		return nil
	}
	name := fmt.Sprintf("%s, %s", r.Name, count(r.Drums, "drum"))
	if r.Tiers > 1 {
		name += fmt.Sprintf(" in %d tiers", r.Tiers)
	}
	if r.Bays > 1 {
		name += fmt.Sprintf(", %d bays", r.Bays)
	}
	room := h.Length - float64(n)*r.Diameter
	gap := math.Max(0, math.Min(0.05, room/float64(n)))
	aisle := math.Max(0, math.Min(0.3, (room-gap*float64(n-1))/float64(max(1, r.Bays-1)))) // between bays
	if r.Bays == 1 {
		aisle = 0
	}
	total := float64(n)*r.Diameter + gap*float64(n-1) + aisle*float64(r.Bays-1)
	along := (h.Length-total)/2 + r.Diameter/2
	var list []drawing.PlanDrum
	for k := range n {
		bay := k * r.Bays / n
		list = append(list, drawing.PlanDrum{Name: name, Across: r.X - x0, Along: along + float64(k)*(r.Diameter+gap) + float64(bay)*aisle, Diameter: r.Diameter})
	}
	return list
}

// openingsAbove are doors, windows and vents in the four walls; what is in a roof is left out.
func openingsAbove(h *house.House, in drawing.FloorPlan) []drawing.Opening {
	var list []drawing.Opening
	add := func(name, host string, kind drawing.OpeningKind, width float64, n int) {
		wall, ok := wallNamed(h, host)
		if !ok {
			return
		}
		long := in.Width
		if wall == drawing.FrontWall || wall == drawing.BackWall {
			long = in.Length
		}
		for k := range n {
			at := long * (float64(k) + 0.5) / float64(n)
			if n == 1 && kind == drawing.Door && long == in.Width {
				at = widestPath(in)
			} else if n == 1 {
				at = freeAt(list, wall, width, long)
			}
			list = append(list, drawing.Opening{Name: name, Kind: kind, Wall: wall, At: at, Width: width})
			if k == 0 && n > 1 {
				list[len(list)-1].Name = fmt.Sprintf("%s, %d of them, each", name, n)
			}
		}
	}
	for _, d := range h.Plan.Doors {
		add(d.Name, d.In, drawing.Door, d.Width, 1)
	}
	for _, w := range h.Plan.Windows {
		add(w.Name, w.In, drawing.Window, w.Width, w.Count)
	}
	for _, v := range h.Plan.Vents {
		add(v.Name, v.In, drawing.Vent, math.Sqrt(v.Area), 1)
	}
	return list
}

// freeAt is where along a wall an opening does not lie on those before it; the middle where all is taken.
func freeAt(list []drawing.Opening, wall drawing.Wall, width, long float64) float64 {
	for _, share := range []float64{0.5, 0.25, 0.75, 0.12, 0.88, 0.38, 0.62} {
		free := true
		for _, o := range list {
			free = free && (o.Wall != wall || math.Abs(o.At-share*long) > (o.Width+width)/2)
		}
		if free {
			return share * long
		}
	}
	return long / 2
}

// wallNamed is the wall of the plan that a face stands in; a roof is none.
func wallNamed(h *house.House, name string) (drawing.Wall, bool) {
	switch name {
	case plan.LeftEnd:
		return drawing.LeftEnd, true
	case plan.RightEnd:
		return drawing.RightEnd, true
	}
	for i := range h.Faces {
		f := &h.Faces[i]
		if f.Of != name || f.End != 0 || math.Abs(f.Tilt-math.Pi/2) > 0.3 {
			continue
		}
		if f.A.Z > f.B.Z { // the room to the left: a wall that runs down is the front
			return drawing.FrontWall, true
		}
		return drawing.BackWall, true
	}
	return 0, false
}

// widestPath is the middle of the widest piece across that neither bed nor drum stands on [m].
func widestPath(in drawing.FloorPlan) float64 {
	type piece struct{ from, to float64 }
	var filled []piece
	for _, b := range in.Beds {
		filled = append(filled, piece{b.From, b.To})
	}
	for _, d := range in.Drums {
		filled = append(filled, piece{d.Across - d.Diameter/2, d.Across + d.Diameter/2})
	}
	filled = append(filled, piece{in.Width, in.Width})
	best, wide, from := in.Width/2, 0.0, 0.0
	for range filled {
		next, end := in.Width, in.Width
		for _, p := range filled { // the next that begins at or after from
			if p.to > from+1e-9 && p.from < next {
				next, end = p.from, p.to
			}
		}
		if next-from > wide {
			best, wide = (from+next)/2, next-from
		}
		from = math.Max(end, from)
	}
	return best
}
