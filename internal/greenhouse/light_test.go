package greenhouse

import (
	"fmt"
	"math"
	"testing"
	"time"

	"suncellar/internal/sun"
	"suncellar/internal/weather"
)

// twoPanes is the lit box with a window of two panes of clear glass, nothing before it.
const twoPanes = `
suncellar: 1
name: glass box
site: {latitude: 39.8 deg, longitude: -105 deg, elevation: 1600 m, time_zone: UTC-7, facing: 180 deg, albedo: 20 %}
builds:
  wall: {layers: [{material: plywood, thickness: 12 mm}, {material: mineral_wool, thickness: 100 mm}, {material: plywood, thickness: 12 mm}]}
glazings:
  two panes:
    panes:
      - {thickness: 3 mm, index: 1.526, extinction: 20 1/m}
      - {thickness: 3 mm, index: 1.526, extinction: 20 1/m}
    gaps: [{thickness: 13 mm}]
section:
  length: 8 m
  start: [0 m, 0 m]
  edges:
    - {name: floor, to: [6 m, 0 m], build: wall, behind: adiabatic}
    - {name: north wall, to: [6 m, 2.7 m], build: wall}
    - {name: roof, to: [0 m, 2.7 m], build: wall}
    - {name: south wall, to: [0 m, 0 m], build: wall}
ends: {build: wall}
windows: [{name: south window, in: south wall, width: 3 m, height: 2 m, count: 2, glazing: two panes}]
frame: {share: 0 %, bar_shade: 0 %, dirt: 0 %}
leakage: {air_changes: 0.5 ach}
`

// panes is what two panes of n 1.526, 20/m, 3 mm pass at an incidence: for each polarisation, pane by pane, all reflections between.
//
// Source: Duffie and Beckman, Solar Engineering of Thermal Processes, section 5.3.
func panes(incidence float64) float64 {
	inner := math.Asin(math.Sin(incidence) / 1.526)
	a := math.Exp(-20 * 0.003 / math.Cos(inner))
	one := func(r float64) float64 {
		back := r + r*a*a*(1-r)*(1-r)/(1-r*r*a*a)
		through := a * (1 - r) * (1 - r) / (1 - r*r*a*a)
		return through * through / (1 - back*back)
	}
	if incidence < 1e-6 {
		r := math.Pow((1.526-1)/(1.526+1), 2)
		return one(r)
	}
	s := math.Pow(math.Sin(inner-incidence)/math.Sin(inner+incidence), 2)
	p := math.Pow(math.Tan(inner-incidence)/math.Tan(inner+incidence), 2)
	return (one(s) + one(p)) / 2
}

// One hour of sun through the window, reckoned by hand: light from the sun's direction by the panes' own Fresnel equations, the rest by
// summing over the half space.
func TestSunThroughAWindow(t *testing.T) {
	h := mustHouse(t, twoPanes)
	w := spellAt(t, h, weather.SpellSpec{Days: 1, MeanC: 0, WindMS: 3, DewPointBelowK: 3}, time.December, 21)
	w.Hours[10] = noon(w.Hours[10])
	g, r := mustRun(t, h, Setup{StartC: 5}, w)
	sky := g.site.hourAt(w, 10, w.Hours[9], spanOf(g, w, 10)).sky
	i := sun.Plane{Tilt: sun.Degrees(90), Azimuth: sun.Degrees(180)}.Irradiance(sky)
	even, weight := 0.0, 0.0
	for k := range 9000 {
		a := (float64(k) + 0.5) / 9000 * math.Pi / 2
		even += panes(a) * math.Sin(2*a)
		weight += math.Sin(2 * a)
	}
	even /= weight // an upright pane sees sky and ground alike
	want := 12 * (i.DirectedWM2()*panes(math.Acos(i.CosIncidence)) + (i.TotalWM2()-i.DirectedWM2())*even)
	if got := r.EnteredW[10]; math.Abs(got/want-1) > 0.003 { // steps of the table of optics
		t.Errorf("%.1f W, by hand %.1f W", got, want)
	} else {
		t.Logf("%.1f W, by hand %.1f W", got, want)
	}
	if r.EnteredW[9] != 0 || r.EnteredW[11] != 0 {
		t.Error("sun in an hour that has none")
	}
	// what entered is kept by the faces and the panes or lost through the glazing
	kept, back := 0.0, g.Net.InjectValue(g.panes[0].absBack)
	for _, f := range r.Flows {
		if f.Name == "sun into the room" {
			kept = float64(f.J[10]) / 3600
		}
	}
	if kept <= 0.8*want || kept+back >= want {
		t.Errorf("faces keep %.1f W, panes %.1f W of %.1f W", kept, back, want)
	}
}

// noon is an hour of strong winter sun.
func noon(w weather.Hour) weather.Hour {
	w.BeamWM2, w.DiffuseWM2, w.GlobalWM2 = 800, 80, 450
	return w
}

// All light that enters is taken up by a face or lost through the glazing, whatever the sun's place.
func TestLightIsSharedOutWhole(t *testing.T) {
	h := mustHouse(t, smallPit+"windows: [{name: end window, in: left end, width: 0.5 m, height: 0.5 m, glazing: twin_wall_10mm}, {name: back window, in: back wall, width: 2 m, height: 0.4 m, glazing: twin_wall_10mm}]\n", sinkAndCover...)
	g, err := New(h, Setup{StartC: 5, Ground: flat(5)})
	if err != nil {
		t.Fatal(err)
	}
	for _, azimuth := range []float64{100, 180, 240} {
		for _, elevation := range []float64{3, 30, 60} {
			got := shared(t, g, azimuth, elevation)
			sum := g.light.LostW
			for _, q := range got {
				if q < 0 {
					t.Fatalf("a face is given %g W", q)
				}
				sum += q
			}
			if math.Abs(sum-1500*float64(len(g.panes))) > 1e-9 {
				t.Errorf("sun at %g°, %g° high: %.6f W of 1500 W a pane", azimuth, elevation, sum)
			}
		}
	}
}

// shared gives the light taken up by every inside face from 1000 W of beam, 350 W of sky and 150 W of ground that come in by each pane [W].
func shared(t *testing.T, g *Greenhouse, azimuth, elevation float64) map[string]float64 {
	t.Helper()
	g.light.LostW = 0
	for _, p := range g.panes {
		p.paneSun = paneSun{beam: 1000, sky: 350, ground: 150}
	}
	g.light.follow(sun.Position{Azimuth: sun.Degrees(azimuth), Elevation: sun.Degrees(elevation)})
	watts := map[string]float64{}
	for _, s := range g.inside {
		watts[s.name] = g.Net.InjectValue(s.sun)
	}
	for _, p := range g.panes {
		watts[p.face.Name] += g.Net.InjectValue(p.absBack)
	}
	return watts
}

// A house turned the other way sees the sun of the other half of the day as its mirror image: the two ends change places.
func TestMirroredSunIsMirroredLight(t *testing.T) {
	east, west := mustHouse(t, smallPit, "site.facing=150 deg"), mustHouse(t, smallPit, "site.facing=210 deg")
	a, err := New(east, Setup{StartC: 5, Ground: flat(5)})
	if err != nil {
		t.Fatal(err)
	}
	b, err := New(west, Setup{StartC: 5, Ground: flat(5)})
	if err != nil {
		t.Fatal(err)
	}
	morning, evening := shared(t, a, 130, 20), shared(t, b, 230, 20)
	mirror := map[string]string{"left end above grade": "right end above grade", "right end above grade": "left end above grade"}
	for name, q := range morning {
		other := name
		if m, ok := mirror[name]; ok {
			other = m
		}
		if math.Abs(q-evening[other]) > 1e-9 {
			t.Errorf("%s: %.6f W in the morning, %s: %.6f W in the evening", name, q, other, evening[other])
		}
	}
}

// The other side of the equator half a year later is the mirror image of a day: the same air, the sun as high and on the other side of
// the house, the two ends changed. The two suns differ by
// four minutes of the clock, and by 7 % in the light outside the air, from which the sky's brightness round the sun is told: 0.05 K on the lowest,
// half a kelvin in the sunniest hour.
func TestOtherHemisphereIsTheMirrorImage(t *testing.T) {
	door := "doors: [{in: %s, width: 0.8 m, height: 1.2 m}]\n"
	var hours []weather.Hour
	run := func(latitude, door string, month time.Month) *Result {
		h := mustHouse(t, smallPit+door, "site.latitude="+latitude)
		w := spellAt(t, h, bright(5, -5), month, 19)
		if hours == nil {
			hours = w.Hours
		}
		w.Hours = hours // the same light, so that only the sun's place is another
		_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever}, w)
		return r
	}
	north := run("46 deg", fmt.Sprintf(door, "left end"), time.December)
	south := run("-46 deg", fmt.Sprintf(door, "right end"), time.June)
	swap := map[string]string{"left end above grade, inner face": "right end above grade, inner face", "right end above grade, inner face": "left end above grade, inner face"}
	for i := range north.Traces {
		name := north.Traces[i].Name
		if s, ok := swap[name]; ok {
			name = s
		}
		other := south.Trace(name)
		if other == nil {
			t.Fatalf("no %s", name)
		}
		worst := 0.0
		for k, c := range north.Traces[i].C {
			worst = math.Max(worst, math.Abs(c-other.C[k]))
		}
		low, _ := north.Traces[i].Lowest()
		otherLow, _ := other.Lowest()
		if math.Abs(low-otherLow) > 0.05 || worst > 0.5 {
			t.Errorf("%s: lowest %.2f and %.2f °C, hours differ by up to %.2f K", name, low, otherLow, worst)
		}
	}
}
