package greenhouse

import (
	"fmt"
	"math"
	"testing"
	"time"

	"suncellar/internal/sun"
)

// enteredWh runs clear days and gives the sun that entered [Wh].
func enteredWh(t *testing.T, changes ...string) float64 {
	t.Helper()
	h := mustHouse(t, smallPit, changes...)
	_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever}, spellAt(t, h, bright(2, -5), time.February, 20))
	sum := 0.0
	for _, w := range r.EnteredW {
		sum += w
	}
	return sum
}

// A skyline that is level is none; a higher one, or a higher or nearer bank, never lets more sun in.
func TestHigherIsNeverSunnier(t *testing.T) {
	free := enteredWh(t)
	if level := enteredWh(t, "site.horizon=[{azimuth: 0 deg, elevation: 0 deg}]"); math.Abs(level-free) > 1e-3*free {
		t.Errorf("a level skyline: %.1f Wh enter, %.1f Wh without it", level, free)
	}
	before := free
	for _, e := range []int{5, 15, 30, 60} {
		now := enteredWh(t, fmt.Sprintf("site.horizon=[{azimuth: 0 deg, elevation: 0 deg}, {azimuth: 100 deg, elevation: %d deg}, {azimuth: 230 deg, elevation: %[1]d deg}]", e))
		if now > before+1e-9 {
			t.Errorf("%d°: %.1f Wh enter, %.1f Wh under a lower skyline", e, now, before)
		}
		before = now
	}
	if before > 0.3*free {
		t.Errorf("under a skyline of 60° to the sun %.0f Wh enter of %.0f", before, free)
	}
	before = free
	for _, z := range []string{"0 m", "0.5 m", "1.5 m", "4 m"} {
		now := enteredWh(t, "site.banks=[{name: berm, distance: 1 m, height: "+z+"}]")
		if now > before+1e-9 {
			t.Errorf("a bank of %s: %.1f Wh enter, %.1f Wh with a lower one", z, now, before)
		}
		before = now
	}
	if short := enteredWh(t, "site.banks=[{name: berm, distance: 1 m, height: 4 m, length: 3 m}]"); short < before {
		t.Errorf("a short bank leaves %.1f Wh, an endless one %.1f", short, before)
	}
}

// The bank's shadow on the glazing: the share of the beam that is left is that of the points above the shadow's edge, by hand.
func TestBankShadowByHand(t *testing.T) {
	h := mustHouse(t, smallPit, "site.banks=[{name: berm, distance: 1 m, height: 1.5 m}]", "site.facing=180 deg")
	g, err := New(h, Setup{StartC: 5, Ground: flat(5)})
	if err != nil {
		t.Fatal(err)
	}
	f := h.Face("glazing")
	at := sun.Position{Elevation: sun.Degrees(25), Azimuth: sun.Degrees(180)}
	look := g.outlookOf(f)
	got := 0.0
	for k := range look.points {
		disc, _ := look.points[k].Seen([3]sun.Position{at, at, at})
		got += disc / outlookPoints
	}
	// the shadow's edge meets the glazing where 1.5 m - z = (1 m + x - front) tan 25°
	tan, lit := math.Tan(25*math.Pi/180), 0
	for k := range outlookPoints {
		s := (float64(k) + 0.5) / outlookPoints
		x, z := f.A.X+s*(f.B.X-f.A.X), f.A.Z+s*(f.B.Z-f.A.Z)
		if 1.5-z < (1+x-h.Front)*tan {
			lit++
		}
	}
	if want := float64(lit) / outlookPoints; math.Abs(got-want) > 1e-9 || want == 0 || want == 1 {
		t.Errorf("%.2f of the glazing is lit, by hand %.2f", got, want)
	}
	// a mirror image: banks at the two ends leave the same to glazing that faces south
	sky := func(side string) float64 {
		h := mustHouse(t, smallPit, "site.banks=[{name: b, side: "+side+", distance: 1 m, height: 4 m}]", "site.facing=180 deg")
		g, err := New(h, Setup{StartC: 5, Ground: flat(5)})
		if err != nil {
			t.Fatal(err)
		}
		return g.outlookOf(h.Face("glazing")).skyShare()
	}
	if l, r := sky("left"), sky("right"); math.Abs(l-r) > 1e-3 || l > 0.999 {
		t.Errorf("a bank to the left leaves %.4f of the sky, to the right %.4f", l, r)
	}
}

// Less sky is never colder at night.
func TestLessSkyIsNeverColder(t *testing.T) {
	base := settledLows(t, mustHouse(t, smallPit))
	notColder(t, "in a hollow", base, settledLows(t, mustHouse(t, smallPit, "site.horizon=[{azimuth: 0 deg, elevation: 25 deg}]")), slackK)
}
