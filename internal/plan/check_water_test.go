package plan

import (
	"strings"
	"testing"
)

// wet is the pit with the usual scheme of water; pipework is the same with pipes one by one, a ring among them.
var (
	wet = strings.Replace(pit, "beds:\n", `water:
  catchments:
    - {name: roof, of: back roof}
    - {name: shed, area: 12 m2, slope: 20 deg, eave_height: 2.6 m, surface: tile}
  first_flush: {volume: 20 L}
  settling_drum: {base: 1 ft, outlet: 3 ft}
  inlet: {mouth: flap, diameter: 40 mm}
  manifolds:
    - {row: back, diameter: 1 in}
    - {row: front}
  valves:
    - {name: stop, on: inlet}
    - {name: mid, on: front, state: shut}
  drip_lines:
    - {name: south line, bed: south, length: 20 ft}
  use_a_day: [10 L, 10 L, 20 L, 40 L, 60 L, 80 L, 80 L, 80 L, 60 L, 30 L, 10 L, 10 L]
  keep: [{volume: 400 gal, from: 12-01, until: 03-15}]
beds:
`, 1)
	pipework = strings.Replace(pit, "beds:\n", `water:
  catchments: [{name: roof, of: back roof}]
  inlet: {mouth: one-way valve}
  points:
    - {name: tee, height: 10 cm}
    - {name: cross, height: 10 cm}
    - {name: foot, height: 0 m}
  pipes:
    - {name: feed, from: inlet, to: tee, diameter: 1 in, length: 3 m}
    - {name: first, from: tee, to: 'back, drum 1', diameter: 1 in, length: 30 cm, couplings: flexible}
    - {name: along, from: tee, to: cross, diameter: 1 in, length: 60 cm}
    - {name: second, from: cross, to: 'back, drum 2', diameter: 1 in, length: 30 cm}
    - {name: on, from: cross, to: foot, diameter: 1 in, length: 30 cm}
    - {name: round, from: foot, to: 'back, drum 1', diameter: 1 in, length: 2 m}
  drip_lines: [{name: south line, bed: south, from: tee}]
beds:
`, 1)
)

var waterFaults = []struct {
	plan, from, to string
	path, wants    string
	hint           string
}{
	{wet, "volume: 20 L", "volume: ‸-20 L", "water.first_flush.volume", "-20 L is out of range, allowed: 0 L to 5000 L", ""},
	{wet, "volume: 20 L", "volume: 20 ‸kg", "water.first_flush.volume", "kg", ""},
	{wet, "volume: 20 L", "volume: 20 ‸m", "water.first_flush.volume", "m is a length, here a volume is wanted", ""},
	{wet, "diameter: 40 mm", "diameter: ‸40", "water.inlet.diameter", "40 has no unit", ""},
	{wet, "diameter: 40 mm", "shut_from: ‸11-15", "water.inlet.shut_from", "only one of shut_from and shut_until", "both"},
	{wet, "diameter: 40 mm", "shut_until: 03-01, shut_from: ‸2024-11-15", "water.inlet.shut_from", "has a year", "every year"},
	{wet, "volume: 20 L", "volume: ‸20 L, depth: 1 mm", "water.first_flush.volume", "both given", ""},
	{wet, "volume: 400 gal", "volume: ‸-400 gal", "water.keep[0].volume", "out of range, allowed: 0 L", ""},
	{wet, "of: back roof", "of: ‸bak roof", "water.catchments[0].of", `there is no face "bak roof"`, `"back roof"`},
	{wet, "of: back roof", "of: back roof, area: ‸12 m2", "water.catchments[0].area", "both given", ""},
	{wet, "of: back roof", "of: back roof, slope: ‸30 deg", "water.catchments[0].slope", "beside of", "own slope"},
	{wet, ", eave_height: 2.6 m", "", "water.catchments[1].eave_height", "needs it", "lower edge"},
	{wet, "name: shed", "name: ‸roof", "water.catchments[1].name", `"roof" stands twice`, ""},
	{wet, "outlet: 3 ft", "outlet: ‸5 ft", "water.settling_drum.outlet", "5 ft is not between bottom and rim", "grade"},
	{wet, "outlet: 3 ft", "outlet: 3 ft, drain: ‸4 ft", "water.settling_drum.drain", "4 ft is not between the bottom", "below the outlet"},
	{wet, "{row: front}", "{row: ‸fornt}", "water.manifolds[1].row", `there is no row of drums "fornt"`, `"front"`},
	{wet, "{row: front}", "{row: ‸back}", "water.manifolds[1].row", `"back" stands twice`, ""},
	{wet, "on: front,", "on: ‸sauth line,", "water.valves[1].on", `the valve sits on no pipe: there is no pipe, drip line or bay with a manifold called "sauth line"`, `"south line"`},
	{wet, "on: front,", "on: ‸back,", "water.valves[1].on", "sits on no pipe", ""}, // water falls into its first drum
	{wet, "on: inlet", "on: ‸pipe 7", "water.valves[0].on", "sits on no pipe", ""},
	{wet, "bed: south,", "bed: ‸soth,", "water.drip_lines[0].bed", `there is no bed "soth"`, `"south"`},
	{wet, "bed: south,", "bed: south, from: ‸nowhere,", "water.drip_lines[0].from", `there is no point or drum "nowhere"`, ""},
	{wet, "from: 12-01", "from: ‸2024-12-01", "water.keep[0].from", "has a year", "every year"},
	{wet, "mouth: flap", "air: ‸pipe", "water.inlet.air", `there is no inlet "pipe"`, "none"},
	{pit, "beds:\n", "water: ‸{catchments: [{name: r, of: back roof}], inlet: {mouth: flap}}\nbeds:\n", "water", "nothing joins the drums", "manifolds"},
	{pit, "beds:\n", "water: {catchments: ‸[], manifolds: [{row: back}]}\nbeds:\n", "water.catchments", "the list is empty", ""},
	{box, "run: {span", "water: ‸{catchments: [{name: r, of: roof}], manifolds: [{row: back}]}\nrun: {span", "water", "no drums that the water could go to", "store"},
	{pipework, "to: foot, diameter", "to: ‸fot, diameter", "water.pipes[4].to", `there is no point or drum "fot"`, `"foot"`},
	{pipework, "from: tee, to: cross", "from: tee, to: ‸tee", "water.pipes[2].to", "from tee back to itself", ""},
	{pipework, "from: tee, to: cross", "from: tee, to: ‸inlet", "water.pipes[2].to", `there is no point or drum "inlet"`, ""},
	{pipework, "bed: south, from: tee", "bed: south", "water.drip_lines[0].from", "is missing", "name the point"},
	{pipework, "name: south line", "name: ‸along", "water.drip_lines[0].name", "that of a pipe", ""},
	{pipework, "  drip_lines", "    - ‸{name: a, from: x, to: y, diameter: 1 in, length: 1 m}\n    - {name: b, from: y, to: z, diameter: 1 in, length: 1 m}\n    - {name: c, from: z, to: x, diameter: 1 in, length: 1 m}\n  drip_lines", "water.pipes[6]",
		"the pipes a, b, c form a loop without an outlet: no drum and no drip line hangs on it", "join them to a drum"},
	{pipework, "  drip_lines", "    - ‸{name: a, from: x, to: y, diameter: 1 in, length: 1 m}\n    - {name: b, from: y, to: z, diameter: 1 in, length: 1 m}\n  drip_lines", "water.pipes[6]", "the pipes a, b lead to no drum and no drip line", ""},
}

func TestWaterFaults(t *testing.T) {
	for _, row := range waterFaults {
		if strings.Count(row.plan, row.from) != 1 {
			t.Errorf("%q stands %d times in the plan", row.from, strings.Count(row.plan, row.from))
			continue
		}
		text := strings.Replace(row.plan, row.from, row.to, 1)
		text = strings.Replace(text, "    - {name: foot,", "    - {name: x, height: 0 m}\n    - {name: y, height: 0 m}\n    - {name: z, height: 0 m}\n    - {name: foot,", 1)
		line, column := 0, 0
		if strings.Contains(text, "‸") {
			text, line, column = spot(t, text)
		}
		p, findings := Load("plan.yaml", []byte(text), withWeather())
		if p != nil {
			t.Errorf("%q is accepted", row.to)
			continue
		}
		f, ok := findingAt(findings, row.path, row.wants)
		switch {
		case !ok:
			t.Errorf("%q: no finding of %q with %q among\n%v", row.to, row.path, row.wants, AsError(findings))
		case line > 0 && (f.Line != line || f.Column != column):
			t.Errorf("%q: found at %d:%d, want %d:%d: %v", row.to, f.Line, f.Column, line, column, f)
		case !strings.Contains(f.Hint, row.hint):
			t.Errorf("%q: hint %q, want %q", row.to, f.Hint, row.hint)
		}
	}
}

func TestWaterIsRead(t *testing.T) {
	p := mustLoad(t, wet)
	w := p.Water
	if w.Manifolds[0].Diameter != 0.0254 || w.Use[6] != 0.08 || w.Valves[1].State != "shut" || *w.FirstFlush.Volume != 0.02 {
		t.Errorf("read as %+v", w)
	}
	for path, source := range map[string]string{"water.overflow.diameter": "inlet", "water.gutter.fall": "common practice", "water.drip_lines[0].emitter.flow": "common practice"} {
		if v, ok := p.Origins.At(path); !ok || v.Origin != Assumed || !strings.Contains(v.Source, source) {
			t.Errorf("%s: %+v", path, v)
		}
	}
	if _, ok := p.Origins.At("water.first_flush.depth"); ok {
		t.Error("a depth of the first flush is assumed beside its volume")
	}
}

// A pipe that lets air in unreckoned, and drums that no pipe leads to, are told and do not stop a run.
func TestWaterWarnings(t *testing.T) {
	for _, row := range []struct{ text, path, wants string }{
		{strings.Replace(wet, "mouth: flap, ", "", 1), "water", "open pipe"},
		{pipework, "store.rows[0]", "no rain comes to back, drum 3"},
		{strings.Replace(strings.Replace(wet, "    - {row: front}\n", "", 1), "on: front", "on: south line", 1), "store.rows[1]", "no rain comes to front, drum 1"},
	} {
		p, findings := Load("plan.yaml", []byte(row.text), withWeather())
		f, ok := findingAt(findings, row.path, row.wants)
		if p == nil || !ok || f.Severity != Warning {
			t.Errorf("%s, %q: %v", row.path, row.wants, findings)
		}
	}
}
