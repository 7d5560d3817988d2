package drawing

import (
	"math"
	"strings"
	"testing"

	"suncellar/internal/draw"
)

// layer returns the items of a class.
func layer(t *testing.T, l *draw.List, class string) []draw.Item {
	t.Helper()
	for _, it := range l.Items {
		if g, ok := it.(*draw.Group); ok && g.Class == class {
			return g.Items
		}
	}
	t.Fatalf("%s has no layer %s", l.Name, class)
	return nil
}

// extent returns the size of an area across and up [model units].
func extent(a *draw.Area) (w, h float64) {
	lo, hi := a.Rings[0][0], a.Rings[0][0]
	for _, p := range a.Rings[0] {
		lo, hi = draw.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, draw.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	return hi.X - lo.X, hi.Y - lo.Y
}

// The hatched part of a cell is the share of winters; a cell without frost has
// none, and 0 is said not to be never. Wanted: the counts of the input.
func TestChanceCellsAreTheirShares(t *testing.T) {
	in := demoChance()
	for _, width := range []float64{320, 720, 1000} {
		l, err := DrawChance(in, Frame{Width: width})
		if err != nil {
			t.Fatal(err)
		}
		got, full := map[string]float64{}, 0.0
		for _, it := range layer(t, l, "cells") {
			a, ok := it.(*draw.Area)
			if !ok {
				continue
			}
			w, h := extent(a)
			along := h
			if width < narrowMax {
				along = w
			}
			if a.Hatch == draw.FrostHatch {
				got[a.Tip] = along
			} else {
				full = along
			}
		}
		frosty := 0
		for _, pl := range in.Places {
			for i, s := range append([]FrostShare{pl.Any}, pl.Month...) {
				tip := in.tip(pl.Name, append([]string{anyMonth}, in.Months...)[i], s)
				if want := full * float64(s.Of) / 100; math.Abs(got[tip]-want) > 1e-9 {
					t.Errorf("%g px: %s: %g px, want %g", width, tip, got[tip], want)
				}
				if s.Of > 0 {
					frosty++
				}
			}
		}
		if len(got) != frosty {
			t.Errorf("%g px: %d cells are hatched, want %d", width, len(got), frosty)
		}
		if !strings.Contains(structure(l), "not never") {
			t.Errorf("%g px: 0 is not said to be no never", width)
		}
	}
}

// The band of a share is rounded outward: by hand.
func TestChanceTips(t *testing.T) {
	in := Chance{Months: []string{"January"}, Winters: 40}
	for _, c := range []struct {
		s    FrostShare
		want string
	}{
		{FrostShare{3, 0.026, 0.199}, "sink, January: frost in 3 of 40 winters (2 to 20 %)"},
		{FrostShare{0, 0, 0.07}, "sink, January: frost in 0 of 40 winters (0 to 7 %)"},
		{FrostShare{40, math.NaN(), math.NaN()}, "sink, January: frost in 40 of 40 winters"},
	} {
		if got := in.tip("sink", "January", c.s); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// An open end is an arrow and said at every width; without one there is neither.
func TestOpenEndIsSaid(t *testing.T) {
	for _, f := range frames() {
		for _, open := range []bool{true, false} {
			in := demoReturn()
			if !open {
				in.Points[3].LoC = -6
			}
			l, err := DrawReturn(in, f)
			if err != nil {
				t.Fatal(err)
			}
			arrows, said := 0, 0
			for _, it := range layer(t, l, "points") {
				if _, ok := it.(*draw.Area); ok {
					arrows++
				}
			}
			ts, _ := texts(l)
			for _, x := range ts {
				if strings.Contains(x.Text, "possible") {
					said++
				}
			}
			if open != (arrows == 1) || open != (said > 0) || open != strings.Contains(l.Desc, colderPossible) {
				t.Errorf("%g px, open %v: %d arrows, said %d times, description %q", f.Width, open, arrows, said, l.Desc)
			}
		}
	}
}

// Every value stands beside its own point, nearer than any other point does, or
// is said below the picture.
func TestReturnValuesBelongToTheirPoints(t *testing.T) {
	in := demoReturn()
	in.Points = append(in.Points, ReturnPoint{22, -3.5, math.NaN(), -2}, ReturnPoint{50, -4.6, math.NaN(), -2})
	for _, f := range frames() {
		l, err := DrawReturn(in, f)
		if err != nil {
			t.Fatal(err)
		}
		at, u := map[string]draw.Point{}, f.Units.withDefaults()
		for _, it := range layer(t, l, "points") {
			if c, ok := it.(*draw.Circle); ok {
				at[c.Tip] = c.Center
			}
		}
		beside := map[string]bool{}
		for _, it := range layer(t, l, "values") {
			x, ok := it.(*draw.Text)
			if !ok || x.Tip == "" {
				continue
			}
			beside[x.Tip] = true
			own := math.Hypot(x.At.X-at[x.Tip].X, x.At.Y-at[x.Tip].Y)
			for tip, p := range at {
				if d := math.Hypot(x.At.X-p.X, x.At.Y-p.Y); tip != x.Tip && d < own {
					t.Errorf("%g px: %s stands %.0f px from its point, %.0f px from that of %q", f.Width, x.Text, own, d, tip)
				}
			}
		}
		said := strings.Join(strings.Fields(strings.ReplaceAll(structure(l)[strings.Index(structure(l), "note:"):], "|", "")), " ")
		for _, pt := range in.Points {
			if !beside[pt.tip(u)] && !strings.Contains(said, "One winter in "+pt.winters()+": "+u.temp(pt.C)) {
				t.Errorf("%g px: the value of one winter in %s is said nowhere: %s", f.Width, pt.winters(), said)
			}
		}
	}
}

// What is rarer than the winters that were run is told so; with enough of them it is not.
func TestBeyondTheWintersIsSaid(t *testing.T) {
	for n, want := range map[int]bool{15: true, 20: false} {
		in := demoReturn()
		for len(in.LowestC) < n {
			in.LowestC = append(in.LowestC, 1)
		}
		l, err := DrawReturn(in, Frame{})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(structure(l), "beyond what"); got != want {
			t.Errorf("%d winters: told %v, want %v", n, got, want)
		}
	}
}

// Each band has a bar of its own from its lower to its upper end; shares stand
// the largest first. Wanted: the ends of the input on the scale of the first bar.
func TestBandsStayApart(t *testing.T) {
	in := demoBands()
	for _, f := range frames() {
		l, err := DrawBands(in, f)
		if err != nil {
			t.Fatal(err)
		}
		wide := map[string]float64{}
		for _, it := range layer(t, l, "bands") {
			if a, ok := it.(*draw.Area); ok {
				w, _ := extent(a)
				wide[a.Tip] += w
			}
		}
		if len(wide) != 3 {
			t.Fatalf("%d bars, want 3: %v", len(wide), wide)
		}
		u := f.Units.withDefaults()
		scale := 0.0
		for _, b := range in.bands() {
			perK := wide[b.tip(in.Place, u)] / (b.HiC - b.LoC)
			if scale == 0 {
				scale = perK
			}
			if math.Abs(perK-scale) > 1e-9 || perK <= 0 {
				t.Errorf("%g px: %s has %g px to a kelvin, want %g", f.Width, b.name, perK, scale)
			}
		}
		var said []string
		for _, it := range layer(t, l, "shares") {
			if x, ok := it.(*draw.Text); ok && strings.HasSuffix(x.Text, "%") {
				said = append(said, x.Text)
			}
		}
		if got, want := strings.Join(said, ", "), "68 %, 27 %, 5 %, 58 %, 24 %, 9 %, 6 %, under 1 %, 0 %"; got != want {
			t.Errorf("%g px: shares %s, want %s", f.Width, got, want)
		}
	}
}

func TestYearsThatCannotBeDrawnAreRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	chance := func(change func(*Chance)) func() (*draw.List, error) {
		return func() (*draw.List, error) { in := demoChance(); change(&in); return DrawChance(in, Frame{}) }
	}
	back := func(change func(*Return)) func() (*draw.List, error) {
		return func() (*draw.List, error) { in := demoReturn(); change(&in); return DrawReturn(in, Frame{}) }
	}
	bands := func(change func(*Bands)) func() (*draw.List, error) {
		return func() (*draw.List, error) { in := demoBands(); change(&in); return DrawBands(in, Frame{}) }
	}
	for _, c := range []struct {
		want string
		draw func() (*draw.List, error)
	}{
		{"0 winters, must be 1 or more", chance(func(in *Chance) { in.Winters = 0 })},
		{"month 2 has no name", chance(func(in *Chance) { in.Months[1] = " " })},
		{"place 3 has no name", chance(func(in *Chance) { in.Places[2].Name = "" })},
		{"6 shares, must be one for each of 7 months", chance(func(in *Chance) { in.Places[0].Month = in.Places[0].Month[:6] })},
		{"January: 101 winters, must be 0 to 100", chance(func(in *Chance) { in.Places[0].Month[3].Of = 101 })},
		{"no fewer than the 36 of January", chance(func(in *Chance) { in.Places[0].Any = FrostShare{30, nan, nan} })},
		{"must hold the share 0.36", chance(func(in *Chance) { in.Places[0].Month[3].Lo = 0.4 })},
		{"band 0.2 to NaN", chance(func(in *Chance) { in.Places[0].Month[3] = FrostShare{36, 0.2, nan} })},
		{"no point", back(func(in *Return) { in.Points = nil })},
		{"one winter in 1, must be above 1", back(func(in *Return) { in.Points[0].OneIn = 1 })},
		{"must be rarer", back(func(in *Return) { in.Points[2].OneIn = 5 })},
		{"no warmer", back(func(in *Return) { in.Points[1].C, in.Points[1].HiC = 0.5, 0.6 })},
		{"only the lower end may be open", back(func(in *Return) { in.Points[1].HiC = nan })},
		{"must be finite", back(func(in *Return) { in.Points[1].LoC = -inf })},
		{"outside its error", back(func(in *Return) { in.Points[1].LoC = 0 })},
		{"lowest of winter 3 is NaN", back(func(in *Return) { in.LowestC[2] = nan })},
		{"over winters: NaN", bands(func(in *Bands) { in.Winters.LoC = nan })},
		{"not known of the house: middle 2 °C lies outside", bands(func(in *Bands) { in.House.MidC = 2 })},
		{"both at once: -3.1, 0.2, +Inf °C", bands(func(in *Bands) { in.Both.HiC = inf })},
		{"dirt on the glazing: share 1.1", bands(func(in *Bands) { in.Inputs[0].Share = 1.1 })},
		{"share NaN, must be 0 to 1", bands(func(in *Bands) { in.Matters[0].Share = nan })},
		{"share 2 has no name", bands(func(in *Bands) { in.Matters[1].Name = "" })},
	} {
		if _, err := c.draw(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("error %v, want one with %q", err, c.want)
		}
	}
}
