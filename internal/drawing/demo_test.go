package drawing

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"suncellar/internal/draw"
)

// The numbers in this file are invented: a cold continental winter that never
// was, in a house that stands nowhere.

func demoStart() time.Time { return time.Date(2031, 10, 1, 0, 0, 0, 0, time.UTC) }

// demoAir returns hours of invented temperatures inside.
func demoAir(days int) []float64 {
	rng := rand.New(rand.NewPCG(7, 11))
	out := make([]float64, days*24)
	dull := 0.0
	for i := range out {
		if i%24 == 0 {
			dull = 0.7*dull + 0.6*rng.NormFloat64()
		}
		season := 9 - 7.5*math.Sin(math.Pi*float64(i)/float64(len(out)))
		out[i] = season + 2.2*dull + (4-1.5*dull)*math.Sin(2*math.Pi*(float64(i%24)-8.5)/24) + 0.3*rng.NormFloat64()
	}
	return out
}

func demoSheet() Sheet {
	air := demoAir(212)
	for i := 900; i < 960; i++ {
		air[i] = math.NaN()
	}
	return Sheet{Place: "bed 1, leaf tips, glazing side", Start: demoStart(), AirC: air}
}

func demoSpell() Spell {
	n := 240
	wave := func(mean, fall, swing, lag float64) []float64 {
		out := make([]float64, n)
		for i := range out {
			x := float64(i) / float64(n)
			out[i] = mean - fall*math.Sin(math.Pi*x*0.85) + swing*math.Sin(2*math.Pi*(float64(i)-lag)/24)
		}
		return out
	}
	sun, snow := make([]float64, n), make([]float64, n)
	for i := range sun {
		h := float64(i % 24)
		sun[i] = math.Max(0, math.Sin(math.Pi*(h-8)/8)) * (120 + 300*math.Abs(float64(i)/120-1))
		if h < 8 || h > 16 {
			sun[i] = 0
		}
		snow[i] = math.Max(0, 0.09*math.Exp(-float64(i-70)/60))
		if i < 70 {
			snow[i] = 0
		}
	}
	return Spell{
		Title: "Worst spell: 26 January to 4 February", Start: time.Date(2032, 1, 26, 0, 0, 0, 0, time.UTC),
		Lines: []Series{
			{"outside", Outside, wave(-8, 10, 6, 9)},
			{"drums", Store, wave(7, 4, 0.4, 14)},
			{"bed soil, 10 cm", Soil, wave(6.2, 3.4, 0.7, 13)},
			{"air", Air, wave(5.5, 4.5, 2.6, 9)},
			{"leaf, glazing side", Leaf, wave(4.9, 4.4, 3.1, 9)},
			{"cold sink", Sink, wave(3.2, 4.6, 1.2, 10)},
		},
		Sun: sun, Snow: snow, SnowOn: "on the glazing",
	}
}

func demoLedger() Ledger {
	return Ledger{
		Title: "Heat of the spell, 26 January to 4 February",
		In: []Share{
			{"ground", Soil, 96}, {"sun through the glazing", Light, 212}, {"air leaking in and out", Joints, 6}, {"freezing drip", Other, 2.4},
		},
		Out: []Share{
			{"glazing", Glazing, 231}, {"ground", Soil, 38}, {"air leaking in and out", Joints, 79}, {"walls above grade", Other, 24}, {"drip drained", Other, 1.4},
		},
		Stored: []Share{{"drums", Store, -71}, {"bed soil", Soil, 14}},
	}
}

func demoCompare() Compare {
	return Compare{
		Title: "What each change is worth on the worst night", Sentence: "Bed 1, leaf tips, glazing side: 0.6 °C on 31 January as planned.",
		Changes: []Change{
			{"night cover, tight", 2.9, 2.1, 3.4, "drawn from dusk to nine", "140"},
			{"six more drums at the back", 1.1, 0.7, 1.6, "", "90"},
			{"board round the edge, 0.6 m deep", 0.4, 0.2, 0.7, "", "75"},
			{"second sheet of film", 1.7, 1.2, 2.1, "", "60 a year"},
			{"vent left open a hand's width", -2.2, -3.1, -1.6, "", ""},
			{"glaze the pole side too", -1.3, -1.9, -0.4, "more light in autumn", "410"},
			{"paint drums black", 0.03, 0.03, 0.03, "", "12"},
		},
	}
}

func demoCarry() Carry {
	n := 24*12 + 1
	fall := func(from, to, days, swing float64) []float64 {
		out := make([]float64, n)
		for i := range out {
			d := float64(i) / 24
			out[i] = to + (from-to)*math.Exp(-d/days) + swing*math.Sin(2*math.Pi*(d-0.35))
		}
		return out
	}
	sink := fall(3.4, -3, 7, 0.4)
	var lo, hi []float64
	for i, c := range sink[:24*8] {
		wide := 1.8 * (1 - math.Exp(-float64(i)/60))
		lo, hi = append(lo, c-wide), append(hi, c+0.7*wide)
	}
	return Carry{
		Title: "Carry-through: how long without sun", Conditions: "No sun: outside −12 °C with a swing of 6, overcast, wind 2 m/s, no snow on the glazing.",
		StepH: 1, LimitC: 1, LimitName: "limit for the leaves",
		Lines: []Series{
			{"drums", Store, fall(8, -1, 9, 0)}, {"bed soil, 10 cm", Soil, fall(7, -1.5, 8, 0.2)},
			{"leaf, glazing side", Leaf, fall(4.6, -2.5, 7, 0.6)}, {"cold sink", Sink, sink},
		},
		LoC: lo, HiC: hi, BandName: "Pale: what 8 in 10 houses built like this one lie between.",
	}
}

func demoCarryCurve() CarryCurve {
	no := make([]bool, 7)
	return CarryCurve{
		Title: "How long without sun, over the cold outside", Conditions: "Until bed 1, leaf tips, falls below −3 °C; overcast, wind 2 m/s, day-night swing 8.",
		OutsideC: []float64{-5, -10, -15, -20, -25, -30, -35}, MostDays: 60, BandName: "Pale: what 8 in 10 houses built like this one lie between.",
		Lines: []CurveLine{
			{"full store", Store, []float64{60, 14, 8.2, 5.1, 3.4, 2.4, 1.9}, []float64{0, 6, 2.4, 1, 0.4, 0, 0}, []bool{true, false, false, false, false, false, false},
				[]float64{32, 8.6, 5, 3.2, 2.2, 1.4, 0.8}, []float64{60, 27, 13, 8.4, 5.3, 3.6, 2.8}},
			{"back drums, bay 2 lost", Soil, []float64{21.5, 9, 5.2, 3.4, 2.1, 1.3, 0.8}, []float64{38.5, 5, 1.2, 0, 0, 0, 0}, []bool{true, false, false, false, false, false, false}, nil, nil},
			{"cover left off", Air, []float64{15, 7, 4, 2.5, 1.6, 0.9, 0.4}, nil, no, nil, nil},
		},
	}
}

// demoSection is an invented pit house, 4.2 m across, floor 1.2 m below grade,
// glazing at the left.
func demoSection(results bool) Section {
	value := func(c float64) float64 {
		if !results {
			return math.NaN()
		}
		return c
	}
	board := []Layer{{Name: "concrete block", Hatch: draw.Concrete, Thickness: 0.2}, {Name: "board", Hatch: draw.Board, Thickness: 0.1}}
	roof := []Layer{{Name: "boards", Hatch: draw.TimberHatch, Thickness: 0.04}, {Name: "wool", Hatch: draw.Board, Thickness: 0.2}}
	return Section{
		Title: "Section, looking east", Sentence: "Sunken house, 4.2 m across.",
		Faces: []Face{
			{A: Point{0, -1.2}, B: Point{0.9, -1.2}, Name: "floor under the bed"},
			{A: Point{0.9, -1.2}, B: Point{0.9, -1.6}, Name: "sink, near side"},
			{A: Point{0.9, -1.6}, B: Point{1.5, -1.6}, Name: "sink floor", Build: []Layer{{Name: "gravel", Hatch: draw.Gravel, Thickness: 0.15}}},
			{A: Point{1.5, -1.6}, B: Point{1.5, -1.2}, Name: "sink, far side"},
			{A: Point{1.5, -1.2}, B: Point{4.2, -1.2}, Name: "floor", Build: []Layer{{Name: "gravel", Hatch: draw.Gravel, Thickness: 0.1}}},
			{A: Point{4.2, -1.2}, B: Point{4.2, 1.7}, Name: "back wall", Build: board},
			{A: Point{4.2, 1.7}, B: Point{3.0, 2.3}, Name: "roof", Build: roof},
			{A: Point{3.0, 2.3}, B: Point{0, 0.3}, Name: "glazing", Glazing: true},
			{A: Point{0, 0.3}, B: Point{0, -1.2}, Name: "front wall", Build: board},
		},
		Grade: []Point{{-1.2, 0}, {4.5, 0}, {4.9, 0.5}, {5.6, 0.5}},
		Beds: []Part{
			{"bed 1", []Point{{0.05, -1.2}, {0.85, -1.2}, {0.85, -0.7}, {0.05, -0.7}}},
			{"bed 2", []Point{{1.7, -1.2}, {2.9, -1.2}, {2.9, -0.75}, {1.7, -0.75}}},
		},
		Drums: []Drum{
			{"drum row 1", Point{3.6, -0.75}, 0, 0.58, 0.88, 0.95}, {"drum row 2", Point{3.6, 0.15}, 0, 0.58, 0.88, 0.95},
			{"drum lying", Point{3.9, 0.9}, 0.28, 0, 0, 0.8},
		},
		Sinks:  []Part{{"cold sink", []Point{{0.9, -1.6}, {1.5, -1.6}, {1.5, -1.2}, {0.9, -1.2}}}},
		Spans:  []Span{{A: Point{0, -1.2}, B: Point{4.2, -1.2}}, {A: Point{0.9, -1.6}, B: Point{1.5, -1.6}}, {A: Point{1.7, -1.2}, B: Point{2.9, -1.2}}, {A: Point{0, -1.2}, B: Point{0, 0.3}, Upright: true}},
		Levels: []Level{{2.3, "ridge"}, {0, "grade"}, {-1.2, "floor"}, {-1.6, "sink"}},
		Rays:   []Ray{{"21 December", 24.4, false}, {"21 June", 71.3, true}},
		Places: []Place{
			{Point{0.3, -0.55}, "bed 1, leaf tips, glazing side", value(-0.8)}, {Point{0.6, -0.85}, "bed 1, soil 10 cm", value(2.6)},
			{Point{2.3, -0.6}, "bed 2, leaf tips", value(1.9)}, {Point{1.2, -1.45}, "cold sink, air", value(-2.4)},
			{Point{3.6, 0.4}, "drum row 2, top", value(5.2)}, {Point{2.8, 1.9}, "air under the ridge", value(0.7)},
		},
	}
}

// picture is one of the pictures with its invented input.
type picture struct {
	name string
	draw func(Frame) (*draw.List, error)
}

func pictures() []picture {
	return []picture{
		{"section", func(f Frame) (*draw.List, error) { return DrawSection(demoSection(true), f) }},
		{"section-plan", func(f Frame) (*draw.List, error) { return DrawSection(demoSection(false), f) }},
		{"section-handles", func(f Frame) (*draw.List, error) { return drawHandles(f) }},
		{"section-lowest", func(f Frame) (*draw.List, error) { return DrawSectionResult(demoWarm(), f) }},
		{"floor-plan", func(f Frame) (*draw.List, error) { return DrawFloorPlan(demoPlan(), f) }},
		{"view", func(f Frame) (*draw.List, error) { return DrawView(demoView(40), f) }},
		{"view-back", func(f Frame) (*draw.List, error) { return DrawView(demoView(-140), f) }},
		{"sheet", func(f Frame) (*draw.List, error) { return DrawSheet(demoSheet(), f) }},
		{"spell", func(f Frame) (*draw.List, error) { return DrawSpell(demoSpell(), f) }},
		{"ledger", func(f Frame) (*draw.List, error) { return DrawLedger(demoLedger(), f) }},
		{"flows", func(f Frame) (*draw.List, error) { return DrawFlows(demoLedger(), f) }},
		{"reserve", func(f Frame) (*draw.List, error) { return DrawReserve(demoReserve(), f) }},
		{"sun-hours", func(f Frame) (*draw.List, error) { return DrawSunHours(demoSun(), f) }},
		{"compare", func(f Frame) (*draw.List, error) { return DrawCompare(demoCompare(), f) }},
		{"carry", func(f Frame) (*draw.List, error) { return DrawCarry(demoCarry(), f) }},
		{"carry-curve", func(f Frame) (*draw.List, error) { return DrawCarryCurve(demoCarryCurve(), f) }},
		{"chance", func(f Frame) (*draw.List, error) { return DrawChance(demoChance(), f) }},
		{"return", func(f Frame) (*draw.List, error) { return DrawReturn(demoReturn(), f) }},
		{"bands", func(f Frame) (*draw.List, error) { return DrawBands(demoBands(), f) }},
		{"drums", func(f Frame) (*draw.List, error) { return DrawDrums(demoDrums(), f) }},
		{"water-scheme", func(f Frame) (*draw.List, error) { return drawScheme(demoScheme(), f) }},
		{"water-scheme-large", func(f Frame) (*draw.List, error) { return drawScheme(demoLargeScheme(), f) }},
	}
}

func mustDraw(t *testing.T, p picture, f Frame) *draw.List {
	t.Helper()
	l, err := p.draw(f)
	if err != nil {
		t.Fatalf("%s at %g px: %v", p.name, f.Width, err)
	}
	return l
}

// To look at the pictures: SUNCELLAR_PICTURES=/tmp/pictures go test ./internal/drawing -run TestWritePictures
// SUNCELLAR_PICTURE names one of them to be written alone.
func TestWritePictures(t *testing.T) {
	dir := os.Getenv("SUNCELLAR_PICTURES")
	if dir == "" {
		t.Skip("SUNCELLAR_PICTURES is not set: no files are written to look at")
	}
	for _, p := range pictures() {
		if one := os.Getenv("SUNCELLAR_PICTURE"); one != "" && one != p.name {
			continue
		}
		for _, v := range []struct {
			suffix string
			f      Frame
			theme  draw.Theme
		}{
			{"-1000", Frame{Width: 1000}, draw.Light}, {"-1000-dark", Frame{Width: 1000}, draw.Dark},
			{"-360", Frame{Width: 360, Units: American()}, draw.Light}, {"-360-dark", Frame{Width: 360}, draw.Dark}, {"", Frame{}, draw.Auto},
		} {
			var b bytes.Buffer
			if err := draw.SVG(&b, mustDraw(t, p, v.f), draw.SVGOptions{Theme: v.theme}); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, p.name+v.suffix+".svg"), b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
