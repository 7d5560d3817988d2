package drawing

import (
	"math"

	"suncellar/internal/draw"
)

// demoWarm is the invented pit house with the lowest of its winter everywhere.
func demoWarm() Section {
	in := demoSection(true)
	box := func(x0, z0, x1, z1 float64) []Point { return []Point{{x0, z0}, {x1, z0}, {x1, z1}, {x0, z1}} }
	in.Boards = []Strip{{Part: Part{"board, 0.6 m out", []Point{{-0.9, -0.3}, {-0.3, -0.3}, {-0.3, -0.25}, {-0.9, -0.25}}}, Hatch: draw.Board}}
	in.Warm = []Warm{
		{"cold sink, air", Air, box(0, -1.6, 4.2, -1.2), -2.4},
		{"bed air", Air, box(0, -1.2, 4.2, -0.5), -0.6},
		{"canopy air", Air, box(0, -0.5, 4.2, 2.3), 0.7},
		{"bed 1, soil 5 cm", Soil, box(0.05, -0.78, 0.85, -0.7), 1.4}, {"bed 1, soil 10 cm", Soil, box(0.05, -0.85, 0.85, -0.78), 2.6}, {"bed 1, soil 20 cm", Soil, box(0.05, -1.0, 0.85, -0.85), 4.1},
		{"bed 2, soil 5 cm", Soil, box(1.7, -0.83, 2.9, -0.75), 2.4}, {"bed 2, soil 20 cm", Soil, box(1.7, -1.05, 2.9, -0.83), 5.3},
		{"drum row 1, bottom", Store, box(3.3, -1.2, 3.9, -0.75), 3.1}, {"drum row 1, top", Store, box(3.3, -0.75, 3.9, -0.3), 4.4},
		{"drum row 2, bottom", Store, box(3.3, -0.3, 3.9, 0.15), 4.9}, {"drum row 2, top", Store, box(3.3, 0.15, 3.9, 0.6), 5.2}, {"drum lying", Store, box(3.6, 0.6, 4.2, 1.2), -0.3},
		{"bed 1, leaves, glazing side", Leaf, box(0.05, -0.7, 0.45, -0.45), -0.8}, {"bed 1, leaves, back", Leaf, box(0.45, -0.7, 0.85, -0.45), 0.4},
		{"bed 2, leaves", Leaf, box(1.7, -0.75, 2.9, -0.45), 1.9},
		{"glazing", Glazing, []Point{{3.0, 2.3}, {0, 0.3}}, -11.5}, {"back wall", Other, []Point{{4.2, -1.2}, {4.2, 1.7}}, 2.2}, {"roof", Other, []Point{{4.2, 1.7}, {3.0, 2.3}}, 0.9},
		{"front wall", Other, []Point{{0, 0.3}, {0, -1.2}}, -1.1}, {"no result", Other, []Point{{1.5, -1.2}, {4.2, -1.2}}, math.NaN()},
	}
	in.Places = append(in.Places, Place{Point{1.6, 1.3}, "glazing, inner face", -11.5}, Place{Point{0.65, -0.5}, "bed 1, leaf tips, back", 0.4}, Place{Point{3.6, -1.0}, "drum row 1, bottom", 3.1}, Place{Point{3.6, 1.95}, "roof, inner face", 0.9})
	in.SnowM, in.SnowByM, in.SnowWords = 0.12, 0.18, "deepest in the winter"
	return in
}

// demoHandles are some of the handles of the pit house.
func demoHandles() []Handle {
	length := func(path string, v float64) Set { return Set{Path: path, Value: v, PerMetre: 1, Lo: 0, Hi: 9} }
	ridge := Handle{Kind: "corner", Name: "ridge", Part: "shape", At: Point{3, 2.3}}
	for _, to := range []struct {
		slides, about Point
		path          string
	}{{Point{0, 0.3}, Point{4.2, 1.7}, "shape.back_roof_slope"}, {Point{4.2, 1.7}, Point{0, 0.3}, "shape.glazing_slope"}} {
		l := math.Hypot(3-to.slides.X, 2.3-to.slides.Z)
		u := Point{(3 - to.slides.X) / l, (2.3 - to.slides.Z) / l}
		ridge.Ways = append(ridge.Ways, Way{u, []Set{ridge.Slope(to.path, to.about, u, 0, 1.2)}})
	}
	return []Handle{
		ridge,
		{Kind: "edge", Name: "floor", Part: "shape", At: Point{3.2, -1.2}, Ways: []Way{{Point{0, -1}, []Set{length("shape.depth", 1.2)}}}},
		{Kind: "corner", Name: "top of the back wall", Part: "shape", At: Point{4.2, 1.7}, Ways: []Way{{Point{0, 1}, []Set{length("shape.back_height", 1.7)}}, {Point{1, 0}, []Set{length("shape.width", 4.2)}}}},
		{Kind: "bed", Name: "bed 2, its top", Part: "beds[1]", At: Point{2.3, -0.75}, Ways: []Way{{Point{0, 1}, []Set{length("beds[1].level", 0.45)}}}},
		{Kind: "bed", Name: "bed 2", Part: "beds[1]", At: Point{2.3, -1}, Ways: []Way{{Point{1, 0}, []Set{length("beds[1].from", 1.7), length("beds[1].to", 2.9)}}}},
		{Kind: "cover", Name: "cover", Part: "cover", At: Point{1.5, 1.3}},
	}
}

func drawHandles(f Frame) (*draw.List, error) {
	in := demoSection(true)
	in.Places = nil
	l, err := DrawSection(in, f)
	if err != nil {
		return nil, err
	}
	g, err := GripsOn(l, demoHandles())
	if err != nil {
		return nil, err
	}
	l.Name = "section-handles"
	AddGrips(l, g)
	return l, nil
}

// demoPlan is the invented pit house from above, nine metres long.
func demoPlan() FloorPlan {
	block := []Layer{{Name: "concrete block", Hatch: draw.Concrete, Thickness: 0.2}, {Name: "board", Hatch: draw.Board, Thickness: 0.1}}
	frame := []Layer{{Name: "boards", Hatch: draw.TimberHatch, Thickness: 0.03}, {Name: "wool", Hatch: draw.Board, Thickness: 0.14}, {Name: "boards", Hatch: draw.TimberHatch, Thickness: 0.03}}
	in := FloorPlan{
		Title: "Floor plan", Sentence: "Sunken house, 9 m long, 4.2 m across.", Length: 9, Width: 4.2, Facing: 165,
		Front: block, Back: block, Left: frame, Right: frame,
		Beds:     []PlanBed{{"bed 1", 0.05, 0.85, []float64{0.45}}, {"bed 2", 1.7, 2.9, []float64{2.1, 2.5}}},
		Sinks:    []PlanBed{{"cold sink", 0.9, 1.5, nil}},
		Overhead: []Level{{3.0, "ridge"}},
		Openings: []Opening{{"door", Door, LeftEnd, 1.3, 0.8}, {"low vent", Vent, LeftEnd, 2.6, 0.5}, {"high vent", Vent, RightEnd, 2.6, 0.55}, {"back window", Window, BackWall, 7, 1.2}},
		Notes:    []string{"Where in its wall a door or vent stands is not said in the plan."},
	}
	for k := range 10 {
		in.Drums = append(in.Drums, PlanDrum{"back drums, 20 in 2 tiers", 3.85, 0.6 + 0.62*float64(k) + 0.5*math.Floor(float64(k)/5), 0.58})
	}
	return in
}

// demoView is the invented pit house as a block, seen from before its right end.
func demoView(azimuth float64) View {
	s, plan := demoSection(false), demoPlan()
	in := View{Title: "The house in the ground", Sentence: "Sunken house, 9 m long, 4.2 m across.", Faces: s.Faces, Beds: s.Beds, Length: 9, Facing: 165, Azimuth: azimuth}
	for _, d := range plan.Drums {
		for k := range 2 {
			in.Drums = append(in.Drums, ViewDrum{"back drums", d.Across, d.Along, -1.2 + 0.88*float64(k), 0.88, d.Diameter, 0.9})
		}
	}
	return in
}

func demoReserve() Reserve {
	return Reserve{Title: "The reserve", Place: "bed 1, leaf tips", LimitC: 1, Conditions: "At −12 °C outside, overcast, wind 2 m/s, no snow on the glazing.", Days: 4.4, IceDays: 2.7, Full: 7.5, Band: [2]float64{3.2, 5.1}}
}

func demoSun() SunHours {
	in := SunHours{Title: "Direct sun on 21 December", Sentence: "Clear sky, glazing bare.", Clock: "Standard time of the site, UTC−7.", Rise: 7.9, Set: 16.3}
	for k, name := range []string{"bed 1, glazing side", "bed 1, back side", "bed 2, glazing side", "bed 2, middle", "bed 2, back side", "drum row 1, side"} {
		r := SunRow{Name: name, Share: make([]float64, 96)}
		for i := range r.Share {
			h := (float64(i) + 0.5) / 4
			r.Share[i] = math.Max(0, math.Min(1, 2.4-0.35*float64(k%4)-math.Abs(h-12.1+0.2*float64(k))*0.7))
		}
		if k == 4 {
			for i := 60; i < 66; i++ {
				r.Share[i] = math.NaN()
			}
		}
		in.Rows = append(in.Rows, r)
	}
	return in
}
