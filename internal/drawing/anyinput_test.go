package drawing

import (
	"io"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/draw"
)

// The tests of this file draw pictures of any numbers: whatever they are, the
// list is whole, no text leaves the sheet and none lies on another.

func anyName() *rapid.Generator[string] {
	return rapid.SampledFrom([]string{
		"air", "leaf, glazing side", "bed soil, 10 cm, middle strip of bed 2", "cold sink", "drums", "outside", "glazing", "air leaking in and out",
	})
}

func anyFrame(t *rapid.T) Frame {
	f := Frame{Width: rapid.SampledFrom([]float64{320, 360, 412, 559, 560, 720, 1000}).Draw(t, "width")}
	if rapid.Bool().Draw(t, "american") {
		f.Units = American()
	}
	return f
}

func anyLines(t *rapid.T, n int) []Series {
	var out []Series
	for range rapid.IntRange(1, 7).Draw(t, "lines") {
		s := Series{Name: anyName().Draw(t, "name"), Kind: Kind(rapid.IntRange(int(Other), int(Joints)).Draw(t, "kind"))}
		from, swing := rapid.Float64Range(-40, 40).Draw(t, "from"), rapid.Float64Range(0, 15).Draw(t, "swing")
		for i := range n {
			s.TempC = append(s.TempC, from+swing*float64(i%24)/24)
		}
		out = append(out, s)
	}
	return out
}

func checkPicture(t *rapid.T, name string, l *draw.List, err error) {
	if err != nil {
		t.Fatal(err)
	}
	if err := draw.SVG(io.Discard, l, draw.SVGOptions{}); err != nil {
		t.Fatal(err)
	}
	checkTexts(t, name, l)
}

func TestSpellOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 500).Draw(t, "hours")
		in := Spell{Title: "Spell", Start: demoStart().AddDate(0, 0, rapid.IntRange(0, 200).Draw(t, "day")), Lines: anyLines(t, n), Sun: make([]float64, n)}
		in.Sun[n/2] = rapid.Float64Range(0, 900).Draw(t, "sun")
		l, err := DrawSpell(in, anyFrame(t))
		checkPicture(t, "spell", l, err)
	})
}

func TestCarryOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Carry{Title: "Carry", StepH: 1, Lines: anyLines(t, rapid.IntRange(2, 500).Draw(t, "hours")), LimitC: rapid.Float64Range(-10, 15).Draw(t, "limit")}
		for range rapid.IntRange(0, len(in.Lines[0].TempC)).Draw(t, "band") {
			lo := rapid.Float64Range(-30, 30).Draw(t, "lo")
			in.LoC, in.HiC = append(in.LoC, lo), append(in.HiC, lo+rapid.Float64Range(0, 9).Draw(t, "wide"))
		}
		in.BandName = "A band."
		l, err := DrawCarry(in, anyFrame(t))
		checkPicture(t, "carry", l, err)
	})
}

func TestCarryCurveOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := CarryCurve{Title: "Curve", Conditions: "No sun.", MostDays: 60}
		c := rapid.Float64Range(-20, 20).Draw(t, "mildest")
		for range rapid.IntRange(2, 12).Draw(t, "colds") {
			in.OutsideC = append(in.OutsideC, c)
			c -= rapid.Float64Range(0.1, 8).Draw(t, "step")
		}
		for range rapid.IntRange(1, 5).Draw(t, "lines") {
			l := CurveLine{Name: anyName().Draw(t, "name"), Kind: Kind(rapid.IntRange(int(Other), int(Joints)).Draw(t, "kind"))}
			for range in.OutsideC {
				days := rapid.Float64Range(0, 60).Draw(t, "days")
				l.Days, l.OnIce, l.Beyond = append(l.Days, days), append(l.OnIce, 0), append(l.Beyond, false)
				k := len(l.Days) - 1
				switch rapid.IntRange(0, 3).Draw(t, "end") {
				case 1:
					l.OnIce[k] = (60 - days) / 2
				case 2:
					l.OnIce[k], l.Beyond[k] = 60-days, true
				case 3:
					l.Days[k], l.Beyond[k] = 60, true
				}
			}
			in.Lines = append(in.Lines, l)
		}
		first := &in.Lines[0]
		for range rapid.IntRange(0, 1).Draw(t, "band") * len(first.Days) {
			lo := rapid.Float64Range(0, 60).Draw(t, "lo")
			first.LoDays, first.HiDays = append(first.LoDays, lo), append(first.HiDays, rapid.Float64Range(lo, 60).Draw(t, "hi"))
		}
		l, err := DrawCarryCurve(in, anyFrame(t))
		checkPicture(t, "carry curve", l, err)
	})
}

func TestLedgerOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := func(lo float64) Share {
			return Share{anyName().Draw(t, "cause"), Kind(rapid.IntRange(int(Other), int(Joints)).Draw(t, "kind")), rapid.Float64Range(lo, 9000).Draw(t, "kWh")}
		}
		in := Ledger{Title: "Ledger", In: []Share{{"sun", Light, 1}}}
		for range rapid.IntRange(0, 8).Draw(t, "in") {
			in.In = append(in.In, share(0))
		}
		for range rapid.IntRange(0, 8).Draw(t, "out") {
			in.Out = append(in.Out, share(0))
		}
		for range rapid.IntRange(0, 3).Draw(t, "stores") {
			in.Stored = append(in.Stored, share(-9000))
		}
		f := anyFrame(t)
		l, err := DrawLedger(in, f)
		checkPicture(t, "ledger", l, err)
		l, err = DrawFlows(in, f)
		checkPicture(t, "flows", l, err)
	})
}

func TestCompareOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Compare{Title: "Compare"}
		for range rapid.IntRange(1, 9).Draw(t, "changes") {
			k := rapid.Float64Range(-9, 9).Draw(t, "k")
			w := rapid.Float64Range(0, 4).Draw(t, "band")
			in.Changes = append(in.Changes, Change{anyName().Draw(t, "name"), k, k - w, k + w/2, rapid.SampledFrom([]string{"", "140 in cloth and rope"}).Draw(t, "note"), rapid.SampledFrom([]string{"", "75", "1400 and 60 a year for ten years"}).Draw(t, "cost")})
		}
		l, err := DrawCompare(in, anyFrame(t))
		checkPicture(t, "compare", l, err)
	})
}

func TestSheetOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Sheet{Place: anyName().Draw(t, "place"), Start: demoStart().AddDate(0, 0, rapid.IntRange(0, 40).Draw(t, "day"))}
		base := rapid.Float64Range(-30, 30).Draw(t, "base")
		dip := rapid.IntRange(0, 400*24).Draw(t, "dip")
		for i := range rapid.IntRange(1, 230*24).Draw(t, "hours") {
			c := base + float64(i%24)/3
			if i == dip {
				c -= 20
			}
			in.AirC = append(in.AirC, c)
		}
		l, err := DrawSheet(in, anyFrame(t))
		checkPicture(t, "sheet", l, err)
	})
}

func anyShare(t *rapid.T, winters int) FrostShare {
	of := rapid.IntRange(0, winters).Draw(t, "of")
	share := float64(of) / float64(winters)
	if rapid.Bool().Draw(t, "no band") {
		return FrostShare{of, math.NaN(), math.NaN()}
	}
	wide := rapid.Float64Range(0, 1).Draw(t, "band")
	return FrostShare{of, share * (1 - wide), share + wide*(1-share)}
}

func TestChanceOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Chance{Title: "Chance", Winters: rapid.SampledFrom([]int{1, 7, 30, 100, 12000}).Draw(t, "winters")}
		for range rapid.IntRange(1, 12).Draw(t, "months") {
			in.Months = append(in.Months, rapid.SampledFrom([]string{"Oct", "September", "a month and a half"}).Draw(t, "month"))
		}
		for range rapid.IntRange(1, 5).Draw(t, "places") {
			pl := ChancePlace{Name: anyName().Draw(t, "name"), Kind: Kind(rapid.IntRange(int(Other), int(Joints)).Draw(t, "kind"))}
			for range in.Months {
				s := anyShare(t, in.Winters)
				pl.Month = append(pl.Month, s)
				if s.Of >= pl.Any.Of {
					pl.Any = s
				}
			}
			in.Places = append(in.Places, pl)
		}
		l, err := DrawChance(in, anyFrame(t))
		checkPicture(t, "chance", l, err)
	})
}

func TestReturnOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Return{Title: "Return", Place: anyName().Draw(t, "name"), Kind: Kind(rapid.IntRange(int(Other), int(Joints)).Draw(t, "kind"))}
		oneIn, c := rapid.Float64Range(1.01, 9).Draw(t, "first"), rapid.Float64Range(-40, 30).Draw(t, "mildest")
		for range rapid.IntRange(1, 8).Draw(t, "points") {
			pt := ReturnPoint{oneIn, c, c - rapid.Float64Range(0, 9).Draw(t, "colder"), c + rapid.Float64Range(0, 9).Draw(t, "warmer")}
			if rapid.Bool().Draw(t, "open") {
				pt.LoC = math.NaN()
			}
			in.Points = append(in.Points, pt)
			oneIn *= rapid.Float64Range(1.01, 4).Draw(t, "rarer")
			c -= rapid.SampledFrom([]float64{0, 0.1, 2, 9}).Draw(t, "fall")
		}
		in.LowestC = rapid.SliceOfN(rapid.Float64Range(-45, 35), 0, 120).Draw(t, "lowest")
		l, err := DrawReturn(in, anyFrame(t))
		checkPicture(t, "return", l, err)
	})
}

func TestBandsOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		band := func() Band {
			c := rapid.SliceOfN(rapid.Float64Range(-45, 35), 3, 3).Draw(t, "ends")
			slices.Sort(c)
			return Band{c[0], c[1], c[2], rapid.SampledFrom([]string{"", "8 winters in 10 of 100, the house as planned"}).Draw(t, "note")}
		}
		shares := func() (out []BandShare) {
			for range rapid.IntRange(0, 8).Draw(t, "shares") {
				share := rapid.SampledFrom([]float64{0, 1e-9, 0.004, 0.2, 0.999, 1}).Draw(t, "share")
				out = append(out, BandShare{anyName().Draw(t, "cause"), share})
			}
			return out
		}
		in := Bands{Title: "Bands", Place: anyName().Draw(t, "name"), Winters: band(), House: band(), Matters: shares(), Inputs: shares()}
		if rapid.Bool().Draw(t, "both") {
			both := band()
			in.Both = &both
		}
		l, err := DrawBands(in, anyFrame(t))
		checkPicture(t, "bands", l, err)
	})
}

func anyCover(t *rapid.T) *Cover {
	if rapid.Bool().Draw(t, "bare") {
		return nil
	}
	return &Cover{anyName().Draw(t, "cover"), rapid.Bool().Draw(t, "outside"), rapid.Float64Range(1e-6, 4).Draw(t, "cover is thick"), [][2]Point{{{3, 2}, {0, 0.3}}}[:rapid.IntRange(0, 1).Draw(t, "panes")]}
}

func TestSectionResultOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := demoWarm()
		c := func() float64 {
			return rapid.OneOf(rapid.Float64Range(-60, 60), rapid.Just(math.NaN())).Draw(t, "lowest")
		}
		for i := range in.Warm {
			in.Warm[i].LowestC = c()
		}
		in.Warm[3].LowestC = rapid.Float64Range(-1e6, 1e6).Draw(t, "one")
		in.Places = nil
		for range rapid.IntRange(0, 14).Draw(t, "places") {
			in.Places = append(in.Places, Place{Point{rapid.Float64Range(0, 4.2).Draw(t, "x"), rapid.Float64Range(-1.5, 2).Draw(t, "z")}, anyName().Draw(t, "name"), c()})
		}
		in.SnowM, in.SnowByM = rapid.Float64Range(0, 3).Draw(t, "snow"), rapid.Float64Range(0, 3).Draw(t, "snow beside")
		in.Cover = anyCover(t)
		l, err := DrawSectionResult(in, anyFrame(t))
		checkPicture(t, "section lowest", l, err)
	})
}

func TestFloorPlanOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.OneOf(rapid.Float64Range(0.01, 1000), rapid.Float64Range(2, 20))
		in := FloorPlan{Title: "Plan", Length: size.Draw(t, "length"), Width: size.Draw(t, "width"), Facing: rapid.Float64Range(-720, 720).Draw(t, "facing")}
		wall := func() []Layer {
			return []Layer{{Name: "block", Hatch: draw.Concrete, Thickness: rapid.Float64Range(0.01, 1).Draw(t, "thick")}}
		}
		in.Front, in.Back, in.Left, in.Right = wall(), wall(), wall(), nil
		for range rapid.IntRange(0, 5).Draw(t, "beds") {
			from := rapid.Float64Range(-1, in.Width).Draw(t, "from")
			in.Beds = append(in.Beds, PlanBed{anyName().Draw(t, "bed"), from, from + rapid.Float64Range(0.01, 4).Draw(t, "wide"), []float64{from + 0.005}})
		}
		for range rapid.IntRange(0, 9).Draw(t, "drums") {
			in.Drums = append(in.Drums, PlanDrum{anyName().Draw(t, "row"), rapid.Float64Range(0, in.Width).Draw(t, "across"), rapid.Float64Range(0, in.Length).Draw(t, "along"), rapid.Float64Range(0.01, 3).Draw(t, "round")})
		}
		for range rapid.IntRange(0, 5).Draw(t, "openings") {
			in.Openings = append(in.Openings, Opening{anyName().Draw(t, "opening"), OpeningKind(rapid.IntRange(0, 2).Draw(t, "kind")), Wall(rapid.IntRange(0, 3).Draw(t, "wall")), rapid.Float64Range(-2, 30).Draw(t, "at"), rapid.Float64Range(0.05, 8).Draw(t, "width")})
		}
		in.Overhead = []Level{{rapid.Float64Range(-1, 20).Draw(t, "ridge"), "ridge"}}
		l, err := DrawFloorPlan(in, anyFrame(t))
		checkPicture(t, "floor plan", l, err)
	})
}

func TestViewOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := demoView(rapid.Float64Range(-400, 400).Draw(t, "azimuth"))
		in.Elevation = rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(5, 85)).Draw(t, "elevation")
		in.Length = rapid.OneOf(rapid.Float64Range(0.1, 1000), rapid.Float64Range(2, 30)).Draw(t, "length")
		in.GroundZ = rapid.Float64Range(-3, 3).Draw(t, "ground")
		in.Drums = nil
		for range rapid.IntRange(0, 9).Draw(t, "drums") {
			in.Drums = append(in.Drums, ViewDrum{anyName().Draw(t, "row"), rapid.Float64Range(0, 4).Draw(t, "across"), rapid.Float64Range(0, in.Length).Draw(t, "along"), rapid.Float64Range(-2, 2).Draw(t, "base"),
				rapid.Float64Range(0.1, 3).Draw(t, "height"), rapid.Float64Range(0.1, 3).Draw(t, "round"), rapid.Float64Range(0, 1).Draw(t, "filled")})
		}
		l, err := DrawView(in, anyFrame(t))
		checkPicture(t, "view", l, err)
	})
}

func TestReserveOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 40), rapid.Float64Range(0, 9e5), rapid.SampledFrom([]float64{1, 7, 30, 31}))
		in := Reserve{Title: "Reserve", Place: anyName().Draw(t, "place"), LimitC: rapid.Float64Range(-10, 10).Draw(t, "limit"), Conditions: "At −12 °C outside.",
			Days: some.Draw(t, "days"), IceDays: some.Draw(t, "ice"), Full: some.Draw(t, "full"), AtLeast: rapid.Bool().Draw(t, "at least")}
		l, err := DrawReserve(in, anyFrame(t))
		checkPicture(t, "reserve", l, err)
	})
}

func TestSunHoursOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := SunHours{Title: "Sun", Clock: rapid.SampledFrom([]string{"", "standard time"}).Draw(t, "clock"), Rise: math.NaN(), Set: math.NaN()}
		if rapid.Bool().Draw(t, "risen") {
			in.Rise = rapid.Float64Range(0, 12).Draw(t, "rise")
			in.Set = rapid.Float64Range(in.Rise, 24).Draw(t, "set")
		}
		for range rapid.IntRange(1, 9).Draw(t, "rows") {
			in.Rows = append(in.Rows, SunRow{anyName().Draw(t, "name"), rapid.SliceOfN(rapid.OneOf(rapid.Float64Range(0, 1), rapid.SampledFrom([]float64{0, 1, math.NaN()})), 1, 300).Draw(t, "share")})
		}
		l, err := DrawSunHours(in, anyFrame(t))
		checkPicture(t, "sun hours", l, err)
	})
}

func TestWaterSchemeOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := func(name string) float64 { return rapid.Float64Range(-5, 9).Draw(t, name) }
		in := WaterScheme{Title: "Water", Heard: "Findings", Inlet: SchemeInlet{Highest: math.NaN(), Mouth: Mouth(rapid.IntRange(0, 2).Draw(t, "mouth"))}, FloorZ: z("floor"), FullZ: z("full")}
		for range rapid.IntRange(1, 4).Draw(t, "roofs") {
			in.Roofs = append(in.Roofs, SchemeRoof{anyName().Draw(t, "name"), z("eave"), z("outlet"), rapid.Float64Range(0, 1.5).Draw(t, "slope")})
		}
		in.Points = []SchemePoint{{"end", z("end"), rapid.IntRange(-1, 0).Draw(t, "end in")}}
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			drums, bottom := rapid.IntRange(1, 60).Draw(t, "drums"), z("bottom")
			in.row(anyName().Draw(t, "row"), drums, rapid.IntRange(1, min(drums, 30)).Draw(t, "bays"), bottom, bottom+rapid.Float64Range(0.2, 3).Draw(t, "tall"))
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "points") { // joints of their own
			in.Points = append(in.Points, SchemePoint{"tee", z("tee"), -1})
			in.Pipes = append(in.Pipes, SchemePipe{len(in.Points) - 1, rapid.IntRange(0, len(in.Points)-1).Draw(t, "to")})
			in.Valves = append(in.Valves, SchemeValve{"stop", SchemePlace{PipeAt, len(in.Pipes) - 1}, i > 1})
		}
		in.Overflow = SchemeOverflow{"overflow", rapid.IntRange(0, len(in.Vessels)-1).Draw(t, "overflow"), z("over"), z("ends")}
		for i := range rapid.IntRange(0, 5).Draw(t, "drips") {
			in.Drips = append(in.Drips, SchemeDrip{anyName().Draw(t, "line"), rapid.IntRange(0, len(in.Points)-1).Draw(t, "from"), z("emitters"), z("bed"), ""})
			in.Findings = append(in.Findings, SchemeFinding{"Too high.", SchemePlace{DripAt, i}})
		}
		if rapid.Bool().Draw(t, "more") {
			in.Flush, in.Tap, in.Inlet.Highest = "first flush, 12 L", &SchemeTap{"tap", z("tap")}, z("highest")
			bottom := z("settling")
			in.Settling = &SchemeSettling{"settling drum", bottom, bottom + 0.9, z("outlet")}
			for _, on := range []SchemePart{InletEnd, InletEnd, OverflowAt} {
				in.Valves = append(in.Valves, SchemeValve{"main", SchemePlace{on, 0}, true})
			}
		}
		for k := GradeLevel; k <= KeptLevel; k++ {
			in.Levels = append(in.Levels, SchemeLevel{anyName().Draw(t, "level"), z("at"), k})
		}
		l, spots, err := DrawWaterScheme(in, anyFrame(t))
		checkPicture(t, "water scheme", l, err)
		w, h := l.Size()
		for _, s := range spots {
			if s.Px.X < 0 || s.Px.X > w || s.Px.Y < 0 || s.Px.Y > h {
				t.Errorf("%s %q at %v is off the sheet of %g by %g px", s.Kind, s.Name, s.Px, w, h)
			}
		}
	})
}

func TestWaterSchemeThatCannotBeDrawn(t *testing.T) {
	for name, spoil := range map[string]func(*WaterScheme){
		"no roof": func(in *WaterScheme) { in.Roofs = nil }, "a height": func(in *WaterScheme) { in.FullZ = math.Inf(1) },
		"a vessel": func(in *WaterScheme) { in.Vessels[0].Top = in.Vessels[0].Bottom }, "a point": func(in *WaterScheme) { in.Pipes[0].To = 4000 },
		"the inlet": func(in *WaterScheme) { in.Inlet.End = -1 }, "a drip line": func(in *WaterScheme) { in.Findings[0].At.Index = 9 },
	} {
		in := demoScheme()
		spoil(&in)
		if _, _, err := DrawWaterScheme(in, Frame{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestDrumsOfAnyNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, n := DrumsCurve{Title: "Drums", Across: "drums", Plan: -1}, 0
		for range rapid.IntRange(2, 12).Draw(t, "points") {
			n += rapid.IntRange(1, 500).Draw(t, "more")
			share := rapid.Float64Range(0, 1).Draw(t, "share")
			in.Points = append(in.Points, DrumsPoint{n, share, figure(100*share, 1) + " %", "tip"})
		}
		in.Plan = rapid.IntRange(-1, len(in.Points)-1).Draw(t, "plan")
		l, err := DrawDrums(in, anyFrame(t))
		checkPicture(t, "drums", l, err)
	})
}
