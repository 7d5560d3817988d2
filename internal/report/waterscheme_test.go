package report

import (
	"slices"
	"strings"
	"testing"

	"suncellar/internal/drawing"
	"suncellar/internal/water"
)

// Each finding lies at the part that it is about.
func TestWaterFindingsHaveTheirPlaces(t *testing.T) {
	for _, c := range []struct {
		change string
		kind   water.Kind
		want   drawing.SchemePlace
	}{
		{"water.catchments[0].eave_height=0.3 m", water.RoofLow, drawing.SchemePlace{Part: drawing.GutterAt}},
		{"water.inlet.highest=3 m", water.Uphill, drawing.SchemePlace{Part: drawing.InletHighest}},
		{"water.inlet.end=3 m", water.Uphill, drawing.SchemePlace{Part: drawing.InletEnd}},
		{"water.overflow.end=2 m", water.Uphill, drawing.SchemePlace{Part: drawing.OverflowEnd}},
		{"water.settling_drum={base: 2 m, outlet: 2.5 m}", water.Uphill, drawing.SchemePlace{Part: drawing.SettlingAt}},
		{"water.valves=[{name: v, on: inlet, state: shut}]", water.InletShut, drawing.SchemePlace{Part: drawing.InletEnd}},
		{"water.valves=[{name: v, on: overflow, state: shut}]", water.OverflowOff, drawing.SchemePlace{Part: drawing.OverflowAt}},
		{"water.valves=[{name: v, on: 'back drums, bay 2', state: shut}]", water.NotFed, drawing.SchemePlace{Part: drawing.VesselAt, Index: 5}},
		{"water.drip_lines=[{name: line, bed: front bed, height: 2 m}]", water.Uphill, drawing.SchemePlace{Part: drawing.DripAt}},
		{"water.drip_lines=[{name: line, bed: front bed}]", water.DeadWater, drawing.SchemePlace{Part: drawing.DripAt}},
	} {
		a := watered(t, c.change)
		i := slices.IndexFunc(a.Findings, func(f water.Finding) bool { return f.Kind == c.kind })
		if i < 0 {
			t.Errorf("%s: no finding of kind %s: %+v", c.change, c.kind, a.Findings)
			continue
		}
		if got := findingPlace(a, &a.Findings[i]); got != c.want {
			t.Errorf("%s: %s lies at %+v, want %+v", c.change, c.kind, got, c.want)
		}
		if _, err := (Teller{}).WaterPictures(a); err != nil {
			t.Errorf("%s: %v", c.change, err)
		}
	}
}

// The picture says what the answer says: levels, valves with their state, and each is where a page can lay hold of it.
func TestWaterScheme(t *testing.T) {
	a := watered(t, "water.valves=[{name: v, on: 'back drums, bay 2', state: shut}]", "water.keep=[{volume: 500 L, from: 11-01, until: 03-15}]", "water.first_flush={volume: 12 L}")
	for _, width := range []float64{360, 900} {
		list, spots, err := Teller{Width: width}.WaterScheme(a)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(spots, func(s drawing.Spot) bool { return s.Kind == "valve" && a.Scheme.Valves[s.Index].Name == s.Name }) {
			t.Errorf("%g px: no valve among %+v", width, spots)
		}
		in := Teller{}.waterScheme(a)
		if in.Flush != "first flush, 12 L" || in.Vessels[0].Stacked != a.House.Rows[0].Tiers || !in.Valves[0].Shut || !strings.Contains(list.Desc, "Full, the water stands") {
			t.Errorf("%+v, %s", in, list.Desc)
		}
		kept := in.Levels[slices.IndexFunc(in.Levels, func(l drawing.SchemeLevel) bool { return l.Kind == drawing.KeptLevel })]
		if got := a.Scheme.Holds(kept.Z); got < 0.4999 || got > 0.5001 {
			t.Errorf("at the level of what is kept the drums hold %g m³, want 0.5", got)
		}
	}
}
