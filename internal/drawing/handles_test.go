package drawing

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"suncellar/internal/draw"
)

// A drag on paper, made into metres along a way and drawn again, ends where the pointer ends; and pixels of the picture become metres as said.
func TestGripsKeepTheScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, err := DrawSection(demoSection(true), anyFrame(t))
		if err != nil {
			t.Fatal(err)
		}
		g, err := GripsOn(l, demoHandles())
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range g.Grips {
			x, z := (h.Px.X-g.Origin.X)*g.MetresPerPixel, (g.Origin.Y-h.Px.Y)*g.MetresPerPixel
			if math.Hypot(x-h.At.X, z-h.At.Z) > 1e-9 {
				t.Errorf("%s: pixels say (%g, %g) m, want %v", h.Name, x, z, h.At)
			}
			for _, w := range h.Ways {
				d := rapid.Float64Range(-2, 2).Draw(t, "drag")
				to := l.Paper(draw.Point{X: h.At.X + d*w.Along.X, Y: h.At.Z + d*w.Along.Z})
				if got := g.Metres(w, to.X-h.Px.X, to.Y-h.Px.Y); math.Abs(got-d) > 1e-9 {
					t.Errorf("%s: a drag of %g m reads %g m", h.Name, d, got)
				}
			}
		}
	})
}

// Wanted: by hand. The ridge at (3, 2.3) seen from (0, 0.3) has a slope of atan(2/3).
func TestSlopesFollowTheirLine(t *testing.T) {
	ridge := demoHandles()[0]
	w := ridge.Ways[1]
	if want := math.Atan2(2, 3); math.Abs(w.Sets[0].Value-want) > 1e-12 {
		t.Errorf("slope %g, want %g", w.Sets[0].Value, want)
	}
	s := ridge.Drag(w, 0)[0]
	if got := s.String(); !strings.HasPrefix(got, "shape.glazing_slope=33.690067525") || !strings.HasSuffix(got, " deg") {
		t.Errorf("written %q", got)
	}
	for want, set := range map[string]Setting{"shape.depth=-1.25 m": {Path: "shape.depth", Value: -1.25}, "cover.r_value=0.7 m2K/W": {Path: "cover.r_value", Value: 0.7, Resistance: true}} {
		if got := set.String(); got != want {
			t.Errorf("written %q, want %q", got, want)
		}
	}
}

func TestHandlesThatCannotBeAreRefused(t *testing.T) {
	l, err := DrawSection(demoSection(false), Frame{})
	if err != nil {
		t.Fatal(err)
	}
	set := []Set{{Path: "shape.depth"}}
	for name, h := range map[string]Handle{
		"no place": {At: Point{math.NaN(), 0}}, "no way": {Ways: []Way{{Point{0, 0}, set}}}, "long way": {Ways: []Way{{Point{1, 1}, set}}}, "nothing set": {Ways: []Way{{Point{1, 0}, nil}}},
	} {
		if _, err := GripsOn(l, []Handle{h}); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}
