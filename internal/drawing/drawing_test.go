package drawing

import (
	"math"
	"sort"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/draw"
)

func TestSpreadKeepsBarsApartAndInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		want, height := make([]float64, n), make([]float64, n)
		total := 0.0
		for i := range want {
			want[i] = rapid.Float64Range(-50, 450).Draw(t, "want")
			height[i] = rapid.Float64Range(5, 40).Draw(t, "height")
			total += height[i]
		}
		const lo = 0.0
		hi := total + rapid.Float64Range(0, 300).Draw(t, "room")
		got := spread(want, height, lo, hi)
		order := make([]int, n)
		for i := range order {
			order[i] = i
		}
		sort.SliceStable(order, func(a, b int) bool { return got[order[a]] < got[order[b]] })
		for k, i := range order {
			if got[i]-height[i]/2 < lo-1e-9 || got[i]+height[i]/2 > hi+1e-9 {
				t.Fatalf("bar %d at %g leaves %g to %g", i, got[i], lo, hi)
			}
			if k == 0 {
				continue
			}
			j := order[k-1]
			if got[i]-height[i]/2 < got[j]+height[j]/2-1e-9 {
				t.Fatalf("bars %d and %d overlap", j, i)
			}
			if want[j] > want[i]+1e-9 {
				t.Fatalf("bars %d and %d changed their order", j, i)
			}
		}
	})
}

// Wanted: by hand.
func TestSpread(t *testing.T) {
	for _, c := range []struct {
		why          string
		want, height []float64
		got          []float64
	}{
		{"clear bars stay", []float64{10, 40}, []float64{10, 10}, []float64{10, 40}},
		{"a pair moves by the same", []float64{50, 50}, []float64{10, 10}, []float64{45, 55}},
		{"the edge holds", []float64{0, 3}, []float64{10, 10}, []float64{5, 15}},
	} {
		got := spread(c.want, c.height, 0, 100)
		for i := range got {
			if math.Abs(got[i]-c.got[i]) > 1e-9 {
				t.Errorf("%s: %v, want %v", c.why, got, c.got)
				break
			}
		}
	}
}

// Wanted: the rule that frost begins below 0 °C, and that the bounds belong to
// the warmer side.
func TestScaleBreaksAtZero(t *testing.T) {
	for _, c := range []struct {
		c    float64
		want draw.Token
	}{
		{-300, draw.Cold6}, {-20, draw.Cold5}, {-1, draw.Cold1}, {-1e-9, draw.Cold1}, {0, draw.Warm1}, {1.999, draw.Warm1}, {2, draw.Warm2}, {25, draw.Warm6}, {90, draw.Warm6},
		{math.NaN(), draw.None},
	} {
		if got := scaleToken(c.c); got != c.want {
			t.Errorf("%g °C is %v, want %v", c.c, got, c.want)
		}
	}
}

// Wanted: definitions of °F, foot and inch; rounding by hand.
func TestUnits(t *testing.T) {
	m, a := Metric(), American()
	for _, c := range []struct{ got, want string }{
		{m.temp(-3.44), "−3.4 °C"}, {m.temp(-0.04), "0.0 °C"}, {m.difference(2.94), "+2.9 °C"}, {m.difference(-0.04), "0.0 °C"},
		{a.temp(0), "32.0 °F"}, {a.temp(-40), "−40.0 °F"}, {a.difference(-5), "−9.0 °F"}, {a.tick(5), "41"},
		{m.Length(1.2), "1.20 m"}, {a.Length(0.3048 * 6), "6 ft"}, {a.Length(-1.2), "−3 ft 11 in"}, {a.Length(0.0254 * 7), "7 in"}, {a.Length(0), "0 ft"},
		{m.Energy(-71.4), "−71 kWh"}, {m.Energy(2.44), "2.4 kWh"}, {m.temp(math.NaN()), "no value"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestTicksAreRoundInTheReadersDegrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-40, 30).Draw(t, "lo")
		hi := lo + rapid.Float64Range(0.5, 60).Draw(t, "span")
		u := American()
		for _, c := range u.tempTicks(lo, hi, 6) {
			f := c*9/5 + 32
			if c < lo-1e-6 || c > hi+1e-6 || math.Abs(f*10-math.Round(f*10)) > 1e-6 {
				t.Fatalf("tick %g °C (%g °F) in %g to %g °C", c, f, lo, hi)
			}
		}
	})
}

// Wanted: a straight fall from 4 to 0 °C in 48 h crosses 1 °C after 36 h.
func TestCrossingLiesBetweenTheValues(t *testing.T) {
	in := Carry{StepH: 6, LimitC: 1, Lines: []Series{
		{"leaf", Leaf, []float64{4, 3.5, 3, 2.5, 2, 1.5, 1, 0.5, 0}}, {"steep", Sink, []float64{4, 4, 0, 0, 0, 0, 0, 0, 0}},
		{"never", Store, []float64{9, 9, 9, 9, 9, 9, 9, 9, 1}}, {"at once", Soil, []float64{0, 5, 5, 5, 5, 5, 5, 5, 5}},
		{"outside", Outside, []float64{-9, -9, -9, -9, -9, -9, -9, -9, -9}},
	}}
	got := in.crossings()
	want := []crossing{{0, 6}, {1, 1.75}, {3, 0}}
	if len(got) != len(want) {
		t.Fatalf("crossings %v, want %v", got, want)
	}
	for i := range want {
		if got[i].series != want[i].series || math.Abs(got[i].step-want[i].step) > 1e-12 {
			t.Errorf("crossing %d is %v, want %v", i, got[i], want[i])
		}
	}
	if d := in.days(6); d != 1.5 {
		t.Errorf("6 steps of 6 h are %g days, want 1.5", d)
	}
}

func TestLedgerSidesCloseAtOneHeight(t *testing.T) {
	p, err := newPage("ledger", Frame{Width: 720})
	if err != nil {
		t.Fatal(err)
	}
	in := demoLedger()
	s, err := newSums(in)
	if err != nil {
		t.Fatal(err)
	}
	b := newBooks(p, in, s)
	for name, blocks := range map[string][]block{"drawn": b.drawn, "gained": b.gained} {
		if top := blocks[len(blocks)-1].y0; math.Abs(top-b.y0) > 1e-6 {
			t.Errorf("%s ends at %g px, want %g px: both sides close", name, top, b.y0)
		}
	}
	if !strings.Contains(s.sentence(Metric()), "The sides are equal") {
		t.Errorf("a closed ledger is told as %q", s.sentence(Metric()))
	}
	in.Out[0].KWh -= 40
	if s, err = newSums(in); err != nil || !strings.Contains(s.sentence(Metric()), "differ by 40 kWh: the books do not close") {
		t.Errorf("an open ledger is told as %q (%v)", s.sentence(Metric()), err)
	}
}

// polygonArea is the shoelace sum.
func polygonArea(ps []Point) float64 {
	sum := 0.0
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		sum += a.X*b.Z - b.X*a.Z
	}
	return math.Abs(sum) / 2
}

// Wanted: half a regular polygon of 32 corners is half its area; a rectangle
// filled to a share has that share; exactly.
func TestDrumWater(t *testing.T) {
	round := Drum{Center: Point{1, 2}, Radius: 0.3, Filled: 0.5}
	if got, want := polygonArea(round.water()), polygonArea(round.outline())/2; math.Abs(got-want) > 1e-12 {
		t.Errorf("half a round drum shows %g m², want %g", got, want)
	}
	for _, share := range []float64{0.25, 0.9, 1} {
		box := Drum{Width: 0.6, Height: 0.9, Filled: share}
		if got, want := polygonArea(box.water()), 0.54*share; math.Abs(got-want) > 1e-12 {
			t.Errorf("box filled to %g shows %g m², want %g", share, got, want)
		}
	}
	if got := (Drum{Radius: 0.3}).water(); got != nil {
		t.Errorf("an empty drum shows water %v", got)
	}
}

// square is a room of 2 by 2 m with a build of 0.3 m all round.
func square() Section {
	b := []Layer{{Name: "block", Hatch: draw.Concrete, Thickness: 0.2}, {Name: "board", Hatch: draw.Board, Thickness: 0.1}}
	return Section{Title: "square", Faces: []Face{
		{A: Point{0, 0}, B: Point{2, 0}, Build: b}, {A: Point{2, 0}, B: Point{2, 2}, Build: b},
		{A: Point{2, 2}, B: Point{0, 2}, Glazing: true}, {A: Point{0, 2}, B: Point{0, 0}, Build: b},
	}}
}

// reversed lists the faces the other way round, as the input allows.
func reversed(in Section) Section {
	out := in
	out.Faces = nil
	for i := len(in.Faces) - 1; i >= 0; i-- {
		f := in.Faces[i]
		f.A, f.B = f.B, f.A
		out.Faces = append(out.Faces, f)
	}
	return out
}

// Wanted: by hand; the outer corner of two faces of 0.3 m at a right angle
// lies 0.3 m out on both axes, whichever way the outline runs.
func TestBuildsMeetAtTheOuterCorner(t *testing.T) {
	for name, in := range map[string]Section{"as listed": square(), "reversed": reversed(square())} {
		p, err := newPage("section", Frame{})
		if err != nil {
			t.Fatal(err)
		}
		s := newSectionSheet(p, in)
		n := len(in.Faces)
		for i, f := range in.Faces {
			if f.A != (Point{2, 0}) {
				continue
			}
			q := s.corner(in.Faces[(i+n-1)%n], f, f.A, f)
			if math.Hypot(q.X-2.3, q.Z+0.3) > 1e-12 {
				t.Errorf("%s: outer corner at %v, want (2.3, -0.3)", name, q)
			}
		}
	}
}

// Wanted: by hand; under 45° from the left, light through the middle of the
// cover at (1, 2) meets the right wall at (2, 1), and a bed top at z = 1.5 at
// (1.5, 1.5).
func TestRayStopsAtWhatItMeets(t *testing.T) {
	d := Point{math.Sqrt2 / 2, -math.Sqrt2 / 2}
	bed := square()
	bed.Beds = []Part{{"bed", []Point{{1, 0.2}, {1.9, 0.2}, {1.9, 1.5}, {1, 1.5}}}}
	for _, c := range []struct {
		why  string
		in   Section
		want Point
	}{{"empty room", square(), Point{2, 1}}, {"bed", bed, Point{1.5, 1.5}}} {
		p, err := newPage("section", Frame{})
		if err != nil {
			t.Fatal(err)
		}
		s := newSectionSheet(p, c.in)
		_, end, ok := s.beam(Point{1, 2}, d)
		got := p.l.Model(end)
		if !ok || math.Hypot(got.X-c.want.X, got.Y-c.want.Z) > 1e-9 {
			t.Errorf("%s: ray ends at %v (%v), want %v", c.why, got, ok, c.want)
		}
		if _, _, ok := s.beam(Point{0.5, 0}, d); ok {
			t.Errorf("%s: a ray came through the floor", c.why)
		}
	}
}

// The scale is the same on both axes and at every place of the sheet.
func TestSectionIsToScale(t *testing.T) {
	l, err := DrawSection(demoSection(true), Frame{Width: 1000})
	if err != nil {
		t.Fatal(err)
	}
	a, b, c := l.Paper(draw.Point{}), l.Paper(draw.Point{X: 2}), l.Paper(draw.Point{Y: 2})
	if dx, dz := b.X-a.X, a.Y-c.Y; math.Abs(dx-dz) > 1e-9 || math.Abs(dx-2*l.Scale) > 1e-9 {
		t.Errorf("2 m are %g px across and %g px up, want %g both", dx, dz, 2*l.Scale)
	}
}

// Edges of layers are drawn where the picture reaches, footings under the builds; a section without either has no such marks.
func TestSoilIsDrawn(t *testing.T) {
	drawn := func(in Section) (tips []string, footings int) {
		in.Grade = []Point{{-1, 2}, {3, 2}}
		l, err := DrawSection(in, Frame{Width: 1000})
		if err != nil {
			t.Fatal(err)
		}
		for _, item := range l.Items {
			g, ok := item.(*draw.Group)
			if !ok {
				continue
			}
			for _, part := range g.Items {
				if line, ok := part.(*draw.Line); ok && g.Class == "ground" && line.Tip != "" {
					tips = append(tips, line.Tip)
				}
			}
			if g.Class == "footings" {
				footings = len(g.Items)
			}
		}
		return tips, footings
	}
	if tips, footings := drawn(square()); len(tips) > 0 || footings > 0 {
		t.Errorf("a section of one soil has %q and %d footings", tips, footings)
	}
	in := square()
	in.Seams = []Level{{Z: 1, Name: "loam"}, {Z: -9, Name: "sand far below"}}
	in.Footings = []Strip{{Part: Part{"footing", []Point{{-0.5, -0.4}, {0.2, -0.4}, {0.2, 0}, {-0.5, 0}}}, Hatch: draw.Concrete}}
	if tips, footings := drawn(in); len(tips) != 1 || tips[0] != "soil above: loam" || footings != 1 {
		t.Errorf("edges %q and %d footings, want the loam's and 1", tips, footings)
	}
}

func TestSectionFindsRoomForAnyPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := demoSection(true)
		in.Places = nil
		for range rapid.IntRange(0, 10).Draw(t, "places") {
			in.Places = append(in.Places, Place{
				At:      Point{rapid.Float64Range(0, 4.2).Draw(t, "x"), rapid.Float64Range(-1.2, 1.6).Draw(t, "z")},
				Label:   rapid.SampledFrom([]string{"leaf tips", "bed 2, soil 10 cm, middle strip", "air"}).Draw(t, "label"),
				LowestC: rapid.Float64Range(-12, 30).Draw(t, "lowest"),
			})
		}
		in.Cover = anyCover(t)
		in.SnowM, in.SnowByM = rapid.SampledFrom([]float64{0, 0.02, 0.4}).Draw(t, "snow"), rapid.SampledFrom([]float64{0, 0.6}).Draw(t, "snow beside")
		w := rapid.SampledFrom([]float64{320, 360, 600, 1000}).Draw(t, "width")
		l, err := DrawSection(in, Frame{Width: w})
		if err != nil {
			t.Fatal(err)
		}
		checkTexts(t, "section", l)
	})
}

func TestSheetMarksAndCounts(t *testing.T) {
	s, err := newSheetGrid(demoSheet())
	if err != nil {
		t.Fatal(err)
	}
	frost, low := 0, math.Inf(1)
	for _, c := range demoSheet().AirC {
		if c < 0 {
			frost++
		}
		if c < low {
			low = c
		}
	}
	if s.frostHours != frost || s.in.AirC[s.low] != low || s.days != 212 {
		t.Errorf("%d hours of frost, lowest %g, %d days, want %d, %g, 212", s.frostHours, s.in.AirC[s.low], s.days, frost, low)
	}
	if math.IsNaN(s.at(40, 12)) || !math.IsNaN(s.at(38, 0)) || !math.IsNaN(s.at(-1, 0)) || !math.IsNaN(s.at(212, 0)) {
		t.Error("gaps and hours outside the series are not told from values")
	}
}

// A sheet that starts in the afternoon keeps its hours in their columns.
func TestSheetStartsAtAnyHour(t *testing.T) {
	in := demoSheet()
	in.Start = in.Start.Add(15 * 3600e9)
	s, err := newSheetGrid(in)
	if err != nil {
		t.Fatal(err)
	}
	if s.at(0, 15) != in.AirC[0] || !math.IsNaN(s.at(0, 14)) || s.at(1, 0) != in.AirC[9] || s.days != 213 {
		t.Errorf("first hour is not in column 15 of the first of %d rows", s.days)
	}
}

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	inf := math.Inf(1)
	spell, section, carry := demoSpell(), demoSection(true), demoCarry()
	spell.Lines[1].TempC = spell.Lines[1].TempC[:100]
	section.Faces[2].B.X += 0.1
	carry.StepH = 0
	thin := demoSection(true)
	thin.Faces[5].Build = []Layer{{Name: "nothing", Hatch: draw.Board, Thickness: 0}}
	sheer := demoSection(true)
	sheer.Cover = &Cover{Name: "cover"}
	overfull := demoSection(true)
	overfull.Drums[0].Filled = 1.2
	for _, c := range []struct {
		want string
		draw func() (*draw.List, error)
	}{
		{"none with a value", func() (*draw.List, error) {
			return DrawSheet(Sheet{Place: "bed", AirC: []float64{math.NaN()}}, Frame{})
		}},
		{"is infinite", func() (*draw.List, error) { return DrawSheet(Sheet{Place: "bed", AirC: []float64{inf}}, Frame{}) }},
		{"100 values, must be 240", func() (*draw.List, error) { return DrawSpell(spell, Frame{}) }},
		{"no line", func() (*draw.List, error) { return DrawSpell(Spell{}, Frame{}) }},
		{"no heat", func() (*draw.List, error) { return DrawLedger(Ledger{}, Frame{}) }},
		{"in and out 0 or more", func() (*draw.List, error) { return DrawLedger(Ledger{In: []Share{{"sun", Light, -1}}}, Frame{}) }},
		{"no change", func() (*draw.List, error) { return DrawCompare(Compare{}, Frame{}) }},
		{"outside its band", func() (*draw.List, error) {
			return DrawCompare(Compare{Changes: []Change{{Name: "cover", K: 3, Lo: 1, Hi: 2}}}, Frame{})
		}},
		{"must be finite", func() (*draw.List, error) {
			return DrawCompare(Compare{Changes: []Change{{Name: "cover", K: inf}}}, Frame{})
		}},
		{"step 0 h", func() (*draw.List, error) { return DrawCarry(carry, Frame{}) }},
		{"must end where face", func() (*draw.List, error) { return DrawSection(section, Frame{}) }},
		{"thickness 0 m", func() (*draw.List, error) { return DrawSection(thin, Frame{}) }},
		{"more than 0 and less than 5", func() (*draw.List, error) { return DrawSection(sheer, Frame{}) }},
		{"must be finite, have a length", func() (*draw.List, error) {
			in := demoSection(true)
			in.Windows = []Pane{{Name: "none", A: Point{1, 1}, B: Point{1, 1}}}
			return DrawSection(in, Frame{})
		}},
		{"filled 1.2", func() (*draw.List, error) { return DrawSection(overfull, Frame{}) }},
		{"3 or more", func() (*draw.List, error) { return DrawSection(Section{}, Frame{}) }},
		{"no part has a lowest", func() (*draw.List, error) { return DrawSectionResult(demoSection(true), Frame{}) }},
		{"must be 0 to 20", func() (*draw.List, error) {
			deep := demoWarm()
			deep.SnowM = -1
			return DrawSectionResult(deep, Frame{})
		}},
		{"must be finite or none", func() (*draw.List, error) {
			hot := demoWarm()
			hot.Warm[0].LowestC = inf
			return DrawSectionResult(hot, Frame{})
		}},
		{"above 0 and at most 1000 m", func() (*draw.List, error) { return DrawFloorPlan(FloorPlan{Length: 4}, Frame{}) }},
		{"end after it begins", func() (*draw.List, error) {
			return DrawFloorPlan(FloorPlan{Length: 4, Width: 3, Beds: []PlanBed{{"bed", 2, 1, nil}}}, Frame{})
		}},
		{"view: section: 0 faces", func() (*draw.List, error) { return DrawView(View{}, Frame{}) }},
		{"seen at 5° to 85°", func() (*draw.List, error) { high := demoView(0); high.Elevation = 90; return DrawView(high, Frame{}) }},
		{"must be above 0 and 0 to 1", func() (*draw.List, error) {
			flat := demoView(0)
			flat.Drums[0].Height = 0
			return DrawView(flat, Frame{})
		}},
		{"no heat", func() (*draw.List, error) { return DrawFlows(Ledger{}, Frame{}) }},
		{"0 or more and finite", func() (*draw.List, error) { return DrawReserve(Reserve{Days: -1}, Frame{}) }},
		{"outside their band", func() (*draw.List, error) { return DrawReserve(Reserve{Days: 3, Band: [2]float64{4, 5}}, Frame{}) }},
		{"no row", func() (*draw.List, error) { return DrawSunHours(SunHours{}, Frame{}) }},
		{"must be 0 to 1", func() (*draw.List, error) {
			return DrawSunHours(SunHours{Rows: []SunRow{{"bed", []float64{2}}}}, Frame{})
		}},
	} {
		if _, err := c.draw(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("error %v, want one with %q", err, c.want)
		}
	}
}

// Wanted: by hand.
func TestHoursOfSunAddUp(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		share []float64
		want  float64
	}{{[]float64{1}, 24}, {[]float64{0, 0.5, nan, 0}, 3}, {make([]float64, 96), 0}} {
		if got := (SunRow{Share: c.share}).Hours(); got != c.want {
			t.Errorf("%v: %g h, want %g", c.share, got, c.want)
		}
	}
}

// Both sides of the streams meet the house over the same height when the books close, and what is open is drawn when they do not.
func TestStreamsMeetAtTheHouse(t *testing.T) {
	at := func(in Ledger) (left, right, open float64) {
		l, err := DrawFlows(in, Frame{Width: 1000})
		if err != nil {
			t.Fatal(err)
		}
		l.Walk(func(it draw.Item) {
			a, ok := it.(*draw.Area)
			if ok && strings.HasPrefix(a.Tip, "not accounted for") {
				open = a.Rings[0][2].Y - a.Rings[0][0].Y
			}
			if !ok || !strings.HasSuffix(a.Tip, "of this side") {
				return
			}
			y := map[float64][]float64{}
			for _, q := range a.Rings[0] {
				y[q.X] = append(y[q.X], q.Y)
			}
			if ys := y[487]; len(ys) >= 2 { // the left side of the house, 26 px wide in the middle
				left += math.Abs(ys[len(ys)-1] - ys[0])
			}
			if ys := y[513]; len(ys) >= 2 {
				right += math.Abs(ys[len(ys)-1] - ys[0])
			}
		})
		return left, right, open
	}
	if left, right, open := at(demoLedger()); math.Abs(left-300) > 0.5 || math.Abs(right-300) > 0.5 || open != 0 {
		t.Errorf("sides meet the house over %.2f and %.2f px, %.2f px open, want 300 and none", left, right, open)
	}
	in := demoLedger()
	in.Out = in.Out[1:] // the glazing forgotten: 231 of 387 kWh
	if left, right, open := at(in); math.Abs(left-300) > 0.5 || math.Abs(left-right-open) > 0.5 || math.Abs(open-300*231/387.4) > 1.5 {
		t.Errorf("sides meet the house over %.2f and %.2f px, %.2f px open", left, right, open)
	}
}

// A tile is full where the day counts whole, and the one in use is drawn to its share.
func TestReserveFillsItsTiles(t *testing.T) {
	l, err := DrawReserve(demoReserve(), Frame{})
	if err != nil {
		t.Fatal(err)
	}
	var filled []float64
	l.Walk(func(it draw.Item) {
		if a, ok := it.(*draw.Area); ok && a.Hatch == draw.WaterHatch {
			filled = append(filled, a.Rings[0][2].Y-a.Rings[0][0].Y)
		}
	})
	if len(filled) != 5 || math.Abs(filled[4]/filled[0]-0.4) > 1e-9 {
		t.Errorf("tiles are %.3g px high, want five, the last 0.4 of the first", filled)
	}
}

// A turn by half round shows the other end and side: what was near is far. The drawing keeps lengths along the house whatever the azimuth
// only where it looks straight on.
func TestViewLooksFromItsAzimuth(t *testing.T) {
	p, err := newPage("view", Frame{})
	if err != nil {
		t.Fatal(err)
	}
	in := demoView(0)
	in.Elevation = 30
	v := newBlockView(p, in)
	left, right := v.at(0, 0, 0), v.at(0, 9, 0)
	if d := left.X - right.X; math.Abs(d-9*v.scale) > 1e-9 || math.Abs(left.Y-right.Y) > 1e-9 {
		t.Errorf("from the front, the left end lies %.2f px right of the right end, want %.2f", d, 9*v.scale)
	}
	if up := v.at(0, 0, 0).Y - v.at(0, 0, 1).Y; math.Abs(up-v.scale*math.Cos(math.Pi/6)) > 1e-9 {
		t.Errorf("a metre up is %.2f px, want %.2f", up, v.scale*math.Cos(math.Pi/6))
	}
	for azimuth, near := range map[float64]float64{40: 9, -40: 0, 140: 9, 220: 0} {
		in.Azimuth = azimuth
		if v := newBlockView(p, in); v.nearY != near {
			t.Errorf("seen from %g° the end at %g m is cut, want %g", azimuth, v.nearY, near)
		}
	}
}

// The front lies below, the left end at the right, and a metre is as long across as along.
func TestFloorPlanIsToScale(t *testing.T) {
	p, err := newPage("floor-plan", Frame{Width: 1000})
	if err != nil {
		t.Fatal(err)
	}
	s := newPlanSheet(p, demoPlan())
	if dx, dy := s.x(1)-s.x(2), s.y(1)-s.y(2); math.Abs(dx-dy) > 1e-9 || dx <= 0 {
		t.Errorf("a metre is %g px along, %g px across, want the same and above 0", dx, dy)
	}
	if !(s.x(0) > s.x(9)) || !(s.y(0) > s.y(4)) {
		t.Error("the left end is not at the right, or the front not below")
	}
}
