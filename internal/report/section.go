package report

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/draw"
	"suncellar/internal/drawing"
	"suncellar/internal/greenhouse"
	"suncellar/internal/house"
	"suncellar/internal/winter"
)

// Section fills in the section of a house; with an answer its places carry their lowest temperatures, with nil there are none.
func (t Teller) Section(h *house.House, a *winter.Answer) drawing.Section {
	s := drawing.Section{Title: "Section, looking " + compass(h.Facing+math.Pi/2), Sentence: t.sectionWords(h), Faces: t.sectionFaces(h), Boards: boards(h), Cover: t.cover(h), Windows: windows(h)}
	s.Grade = grade(h)
	for _, l := range h.Plan.Site.SoilLayers {
		s.Seams = append(s.Seams, drawing.Level{Z: -l.To, Name: fmt.Sprintf("%s, to %s below grade", l.Texture, t.depth(l.To))})
	}
	s.Footings = t.strips(h)
	for _, b := range h.Beds {
		s.Beds = append(s.Beds, drawing.Part{Name: b.Name, Outline: box(b.X0, h.FloorZ, b.X1, b.Z)})
		s.Spans = append(s.Spans, drawing.Span{A: drawing.Point{X: b.X0, Z: h.FloorZ}, B: drawing.Point{X: b.X1, Z: h.FloorZ}})
	}
	if h.Sink {
		x0, x1 := sinkSides(h)
		s.Sinks = append(s.Sinks, drawing.Part{Name: "cold sink", Outline: box(x0, h.SinkZ, x1, h.FloorZ)})
	}
	for _, r := range h.Rows {
		s.Drums = append(s.Drums, drumsOf(r)...)
	}
	s.Spans = append(s.Spans, wholeSpans(h)...)
	s.Levels = levels(h)
	s.Rays = rays(h)
	if a != nil {
		s.Places = t.sectionPlaces(a)
	}
	return s
}

func (t Teller) sectionWords(h *house.House) string {
	s := fmt.Sprintf("%s: %s long, %s of glazing", h.Plan.Name, t.height(h.Length), t.area(h.GlazedArea()))
	if w := h.Water(); w > 0 {
		s += fmt.Sprintf(", %s of water", t.water(w))
	}
	return s + "."
}

// compass is the nearest of eight directions of an azimuth [rad].
func compass(azimuth float64) string {
	names := [...]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	k := int(math.Round(azimuth/(math.Pi/4))) % 8
	return names[(k+8)%8]
}

// sectionFaces are the edges of the room in order; windows and doors lie on the line of their host and are not edges.
func (t Teller) sectionFaces(h *house.House) []drawing.Face {
	var list []drawing.Face
	for i := range h.Faces {
		f := &h.Faces[i]
		if f.End != 0 || hole(h, i) {
			continue
		}
		d := drawing.Face{A: drawing.Point(f.A), B: drawing.Point(f.B), Name: f.Name, Glazing: f.Glass != nil}
		if f.Build != nil {
			d.Build = t.layersOf(f.Build)
		}
		list = append(list, d)
	}
	return chained(list)
}

// chained puts edges in the order in which each begins where the last ended.
func chained(list []drawing.Face) []drawing.Face {
	for i := 1; i < len(list); i++ {
		for k := i; k < len(list); k++ {
			if math.Hypot(list[k].A.X-list[i-1].B.X, list[k].A.Z-list[i-1].B.Z) < 1e-9 {
				list[i], list[k] = list[k], list[i]
				break
			}
		}
	}
	return list
}

// hole tells whether face i lies on the line of a face before it.
func hole(h *house.House, i int) bool {
	for k := range i {
		if o := &h.Faces[k]; o.End == 0 && o.A == h.Faces[i].A && o.B == h.Faces[i].B {
			return true
		}
	}
	return false
}

// insulating is the conductivity below which a layer is drawn as insulation [W/mK].
const insulating = 0.07

func hatchOf(l house.Layer) draw.Hatch {
	for _, h := range []struct {
		words string
		hatch draw.Hatch
	}{
		{"gravel sand crushed", draw.Gravel}, {"earth soil adobe cob clay", draw.Soil},
		{"concrete block brick stone mortar", draw.Concrete}, {"wood ply timber osb pine spruce board log", draw.TimberHatch},
	} {
		for _, w := range strings.Fields(h.words) {
			if strings.Contains(l.Name, w) && l.Conductivity >= insulating {
				return h.hatch
			}
		}
	}
	if l.Conductivity < insulating {
		return draw.Board
	}
	return draw.Plain
}

func box(x0, z0, x1, z1 float64) []drawing.Point {
	return []drawing.Point{{X: x0, Z: z0}, {X: x1, Z: z0}, {X: x1, Z: z1}, {X: x0, Z: z1}}
}

// grade is the surface of the ground, some way out to both sides.
func grade(h *house.House) []drawing.Point {
	x0, x1 := math.Inf(1), math.Inf(-1)
	for _, p := range h.Section {
		x0, x1 = math.Min(x0, p.X), math.Max(x1, p.X)
	}
	out := math.Max(0.8, 0.25*(x1-x0))
	return []drawing.Point{{X: x0 - out, Z: 0}, {X: x1 + out, Z: 0}}
}

func sinkSides(h *house.House) (x0, x1 float64) {
	x0, x1 = math.Inf(1), math.Inf(-1)
	for _, p := range h.Section {
		if math.Abs(p.Z-h.SinkZ) < 1e-9 {
			x0, x1 = math.Min(x0, p.X), math.Max(x1, p.X)
		}
	}
	return x0, x1
}

// drumsOf are the drums of a row, tier on tier, under one name.
func drumsOf(r house.Row) []drawing.Drum {
	var list []drawing.Drum
	if r.Drums == 0 {
		return nil
	}
	for k := range r.Tiers {
		d := drawing.Drum{Name: r.Name, Center: drawing.Point{X: r.X, Z: r.Base + (float64(k)+0.5)*r.Height}, Width: r.Diameter, Height: r.Height, Filled: r.Fill}
		list = append(list, d)
	}
	return list
}

// middle is the middle of the room across [m].
func middle(h *house.House) float64 {
	x0, x1 := math.Inf(1), math.Inf(-1)
	for _, p := range h.Section {
		x0, x1 = math.Min(x0, p.X), math.Max(x1, p.X)
	}
	return (x0 + x1) / 2
}

// wholeSpans are the width of the floor and the height of the room.
func wholeSpans(h *house.House) []drawing.Span {
	x0, x1 := math.Inf(1), math.Inf(-1)
	for _, p := range h.Section {
		if math.Abs(p.Z-h.FloorZ) < 1e-9 {
			x0, x1 = math.Min(x0, p.X), math.Max(x1, p.X)
		}
	}
	return []drawing.Span{{A: drawing.Point{X: x0, Z: h.FloorZ}, B: drawing.Point{X: x1, Z: h.FloorZ}},
		{A: drawing.Point{X: x0, Z: h.FloorZ}, B: drawing.Point{X: x0, Z: h.Top()}, Upright: true}}
}

func levels(h *house.House) []drawing.Level {
	list := []drawing.Level{{Z: h.Top(), Name: "top"}, {Z: h.FloorZ, Name: "floor"}}
	if math.Abs(h.FloorZ) > 0.02 {
		list = append(list, drawing.Level{Z: 0, Name: "grade"})
	}
	if h.Sink {
		list = append(list, drawing.Level{Z: h.SinkZ, Name: "sink"})
	}
	return list
}

// solstice is the sun's declination on the longest and the shortest day [rad].
const solstice = 23.44 * math.Pi / 180

// rays are the sun at noon of the shortest and the longest day, seen in the plane of the section: tan(profile) = tan(elevation)/cos(turn).
func rays(h *house.House) []drawing.Ray {
	latitude := h.Plan.Site.Latitude
	noon, names := math.Pi, [2]string{"21 December", "21 June"}
	if latitude < 0 {
		noon, names = 0, [2]string{"21 June", "21 December"}
	}
	across := math.Cos(h.Facing - noon)
	var list []drawing.Ray
	for k, declination := range []float64{-solstice, solstice} {
		e := math.Pi/2 - (math.Abs(latitude) - declination)
		if e <= 0 || e >= math.Pi/2 || across < 0.2 {
			continue
		}
		degrees := math.Atan(math.Tan(e)/across) * 180 / math.Pi
		list = append(list, drawing.Ray{Name: names[k], Degrees: degrees, Dashed: k == 1})
	}
	return list
}

// sectionPlaces are leaves, soil at 10 cm, air and the top and bottom water.
func (t Teller) sectionPlaces(a *winter.Answer) []drawing.Place {
	var list []drawing.Place
	water := map[float64]int{}
	for i := range a.Places {
		p, tr := &a.Places[i], &a.Result.Traces[i]
		at := drawing.Place{At: drawing.Point{X: tr.X, Z: tr.Z}, Label: p.Name, LowestC: p.LowestC}
		if math.IsNaN(tr.X) || math.IsInf(tr.X, 0) { // a house that does not stand in the ground has no walls at grade to measure from
			at.At.X = middle(a.House)
		}
		switch p.Kind {
		case greenhouse.LeafPlace: // the bed under it has its name there
			if _, side, _ := strings.Cut(p.Name, ", leaf tips, "); side != "" {
				at.Label = "leaf tips, " + side
			}
		case greenhouse.AirPlace:
			switch p.Name {
			case "bed air": // between the leaves, which stand for it
				continue
			case "cold sink air":
				x0, x1 := sinkSides(a.House)
				at.At.X = (x0 + x1) / 2
			}
		case greenhouse.SoilPlace:
			if math.Abs(p.DepthM-0.10) > 1e-6 {
				continue
			}
		case greenhouse.WaterPlace: // bays stand behind each other: the colder of those at one spot
			key := tr.X*1000 + tr.Z
			if k, seen := water[key]; seen {
				list[k].LowestC = math.Min(list[k].LowestC, p.LowestC)
				continue
			}
			if !strings.HasSuffix(p.Name, ", top") && !strings.HasSuffix(p.Name, ", bottom") {
				continue
			}
			water[key] = len(list)
			row, _, _ := strings.Cut(p.Name, ",")
			at.Label = row + p.Name[strings.LastIndex(p.Name, ","):]
		default:
			continue
		}
		list = append(list, at)
	}
	return list
}
