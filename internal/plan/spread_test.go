package plan

import (
	"math"
	"strings"
	"testing"
)

// What a grower writes is read to ends in SI, the lower one with the unit of the higher where it has none.
func TestSpreadsAreRead(t *testing.T) {
	text := strings.Replace(pit, "beds:\n", `unknown:
  leakage: 1.5 to 4 cm2/m2
  soil_moisture: 30 to 70 %
  dirt: off
  ageing: 0.4 % to 1.6 %
  drum_factor: 0.7 times to 1.5 times
  snowfall: 0.5 to 2 times
beds:
`, 1)
	p := mustLoad(t, text)
	for _, c := range []struct {
		key       string
		path      string
		low, high float64
		off       bool
	}{
		{"leakage", "leakage.per_area", 1.5e-4, 4e-4, false},
		{"soil_moisture", "site.soil.moisture", 0.3, 0.7, false},
		{"dirt", "", 0, 0, true},
		{"ageing", "frame.ageing", 0.004, 0.016, false},
		{"drum_factor", "", 0.7, 1.5, false},
		{"snowfall", "", 0.5, 2, false},
	} {
		s := p.Unknown.Of(c.key)
		if s == nil || s.Off != c.off || s.Path != c.path || math.Abs(s.Low-c.low) > 1e-12 || math.Abs(s.High-c.high) > 1e-12 {
			t.Errorf("%s: %+v", c.key, s)
		}
	}
	if p.Unknown.InsideFactor != nil || p.Unknown.CoverFit != nil {
		t.Error("a key that was left out has a spread")
	}
	changed, findings := p.Apply(Change{Path: "unknown.leakage", Value: "0.5 to 2 times"}, Change{Path: "unknown.dirt", Value: "none"})
	if Failed(findings) || changed.Unknown.Leakage.Path != "" || changed.Unknown.Leakage.High != 2 || changed.Unknown.Dirt != nil {
		t.Errorf("changed: %+v %v", changed.Unknown.Leakage, findings)
	}
}

// Every value that a spread is about is a number of the plan, and has limits.
func TestSpreadsAreOfNumbers(t *testing.T) {
	u := &Unknown{}
	for _, key := range UnknownKeys() {
		if u.Of(key) != nil {
			t.Errorf("%s is not empty", key)
		}
		for _, path := range fieldAt("unknown." + key).of {
			low, high, ok := Allowed(path)
			if !ok || !(low < high) || math.IsInf(high, 1) {
				t.Errorf("%s is about %s, allowed %g to %g, %v", key, path, low, high, ok)
			}
		}
	}
	for path, want := range map[string]float64{"site.soil_layers[3].moisture": 1, "snow.fall[11]": 5, "builds.wall.layers[0].thickness": 3} {
		if _, high, ok := Allowed(path); !ok || high != want {
			t.Errorf("%s: up to %g, %v, want %g", path, high, ok, want)
		}
	}
	for _, path := range []string{"site", "site.soil.texture", "nothing", "beds[0", "site.soil.moisture.more"} {
		if _, _, ok := Allowed(path); ok {
			t.Errorf("%s has limits", path)
		}
	}
}
