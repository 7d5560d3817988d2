package plan

import (
	"strings"
	"testing"
)

func TestParseChange(t *testing.T) {
	for _, row := range []struct{ text, path, value, wants string }{
		{"shape.depth=1.2 m", "shape.depth", "1.2 m", ""},
		{" beds[0].level = 1 ft ", "beds[0].level", "1 ft", ""},
		{`sun_shares."a=b"=0.5`, `sun_shares."a=b"`, "0.5", ""},
		{"name=a=b", "name", "a=b", ""},
		{"cover=none", "cover", "none", ""},
		{"depth", "", "", "is not a change"},
		{"depth=", "", "", "sets nothing"},
		{"=3", "", "", "a name is missing"},
		{"a..b=3", "", "", "a name is missing"},
		{"beds[x].level=3", "", "", "not the number of a list item"},
		{"beds[0]level=3", "", "", "a point is missing"},
		{`a."b=3`, "", "", "is not a change"},
	} {
		c, err := ParseChange(row.text)
		switch {
		case row.wants != "":
			if err == nil || !strings.Contains(err.Error(), row.wants) {
				t.Errorf("%q: %v, want %q", row.text, err, row.wants)
			}
		case err != nil || c.Path != row.path || c.Value != row.value || c.Origin != Changed:
			t.Errorf("%q is %+v, %v", row.text, c, err)
		default:
			if again, err := ParseChange(c.String()); err != nil || again != c {
				t.Errorf("%q is written %q, which is %+v, %v", row.text, c.String(), again, err)
			}
		}
	}
}

func change(t *testing.T, text string) Change {
	t.Helper()
	c, err := ParseChange(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Each change is made in a good plan and gives another good plan, where the value stands and nothing else is other.
func TestGoodChanges(t *testing.T) {
	for _, row := range []struct {
		plan, change string
		path         string // canonical; "" where a part is taken out
		want         float64
	}{
		{pit, "shape.depth=1.1 m", "shape.depth", 1.1},
		{pit, "store.rows.back.drums=8", "store.rows[0].drums", 8},
		{pit, "store.rows[1].drums=3", "store.rows[1].drums", 3},
		{pit, "beds.north.level=50 cm", "beds[1].level", 0.5},
		{pit, "beds[0].level=50 cm", "beds[0].level", 0.5},
		{pit, "site.soil.moisture=30 %", "site.soil.moisture", 0.3},
		{pit, "frame.share=0.1", "frame.share", 0.1},
		{pit, "ground.finest_cell=5 cm", "ground.finest_cell", 0.05},
		{pit, "run.seed=7", "run.seed", 7},
		{pit, "snow.list[1].depth=5 cm", "snow.list[1].depth", 0.05},
		{pit, "climate.sun[11]=1 kWh/m2", "climate.sun[11]", 1},
		{pit, "builds.earth wall.layers[1].thickness=10 cm", "builds.earth wall.layers[1].thickness", 0.1},
		{pit, "builds.insulated roof.inside.absorptance=0.3", "builds.insulated roof.inside.absorptance", 0.3},
		{pit, "sun_shares.back wall=0.4", "sun_shares.back wall", 0.4},
		{pit, "glazings.two sheets.panes[1].emittance=0.1", "glazings.two sheets.panes[1].emittance", 0.1},
		{box, "cover.r_value=RSI 1", "cover.r_value", 1},
		{box, "section.edges.roof.to[1]=3 m", "section.edges[1].to[1]", 3},
		{box, "section.edges.back.to=[6 m, 0.4 m]", "section.edges[2].to[1]", 0.4},
		{box, "site.water_table=10 m", "site.water_table", 10},
		{pit, "beds[2]={name: shelf, from: 9 ft, to: 10 ft}", "beds[2].to", 3.048},
		{box, "beds[0]={name: only, from: 1 m, to: 2 m}", "beds[0].to", 2},
	} {
		before := mustLoad(t, row.plan)
		c := change(t, row.change)
		after := mustLoad(t, row.plan, c)
		v, ok := after.Origins.At(row.path)
		if !ok || !near(v.Quantity.SI, row.want) || v.Origin != Changed || v.Line != 0 {
			t.Errorf("%s: %s is %+v, want %v", row.change, row.path, v, row.want)
		}
		for w := range before.Origins.All() {
			x, ok := after.Origins.At(w.Path)
			if strings.HasPrefix(row.path, w.Path) || strings.HasPrefix(w.Path, "section.edges[2].to") {
				continue
			}
			if !ok || x != w {
				t.Errorf("%s: %s was %+v and is %+v", row.change, w.Path, w, x)
			}
		}
	}
}

func TestRemoval(t *testing.T) {
	p := mustLoad(t, pit, change(t, "cover=none"), change(t, "beds.south=none"), change(t, "frame.share=20 %"), change(t, "frame.share=none"), change(t, "run=winter"))
	if p.Cover != nil || len(p.Beds) != 1 || p.Beds[0].Name != "north" || p.Frame.Share != 0.08 || p.Run.Span != "winter" {
		t.Errorf("cover %v, beds %v, frame %v, run %v", p.Cover, p.Beds, p.Frame, p.Run)
	}
	for path := range map[string]bool{"frame.share": true, "run.from": true} {
		if p.Origins.Given(path) {
			t.Errorf("%s counts as given", path)
		}
	}
	if p := mustLoad(t, box, change(t, "cover.hours=none"), change(t, "sun_shares.roof=none")); p.Cover != nil || len(p.SunShares) != 1 {
		t.Errorf("cover %v, sun shares %v", p.Cover, p.SunShares)
	}
}

// A changed plan can be changed again, and the plan it was made from is left alone.
func TestApplyLeavesThePlanAlone(t *testing.T) {
	p := mustLoad(t, pit)
	a, findings := p.Apply(change(t, "shape.depth=1 m"), change(t, "beds.south=none"), change(t, "run.seed=2"))
	b, more := a.Apply(change(t, "shape.width=5 m"))
	if Failed(findings) || Failed(more) {
		t.Fatal(AsError(append(findings, more...)))
	}
	if b.Shape.Depth != 1 || b.Shape.Width != 5 || len(b.Beds) != 1 || a.Shape.Width == 5 {
		t.Errorf("depth %v, width %v, beds %d", b.Shape.Depth, b.Shape.Width, len(b.Beds))
	}
	if again, _ := p.Apply(); equal(mustLoad(t, pit), again) != nil || len(p.Beds) != 2 {
		t.Errorf("the first plan was changed")
	}
}

func TestBadChanges(t *testing.T) {
	for _, row := range []struct{ plan, change, wants, hint string }{
		{pit, "shape.depth=1,2 m", `--set shape.depth=1,2 m: shape.depth: "1,2 m": 1,2 has a decimal comma`, "write 1.2 with a point"},
		{pit, "shape.depth=1.2", "--set shape.depth=1.2: shape.depth: 1.2 has no unit", ""},
		{pit, "shape.depth=9 m", "--set shape.depth=9 m: shape.depth: 9 m is out of range, allowed: 0 m to 4 m", ""},
		{pit, "shape.kind=tent", `--set shape.kind=tent: shape.kind: "tent" is not known here, allowed: pit, lean-to`, ""},
		{pit, "shape.dept=1 m", `--set shape.dept=1 m: unknown key "dept" in shape`, `did you mean "depth"?`},
		{pit, "shap.depth=1 m", `--set shap.depth=1 m: unknown key "shap"`, `did you mean "shape"?`},
		{pit, "shape.depth.deep=1 m", `shape.depth is a single value and has no part "deep"`, "set shape.depth itself"},
		{pit, "shape.depth=none", "shape.depth is needed and cannot be taken out", "floor below grade"},
		{pit, "shape=1 m", "--set shape=1 m: shape: keys with values are wanted here, this is a single value", ""},
		{pit, "store.rows.bak.drums=3", `unknown item "bak" in store.rows`, `did you mean "back"?`},
		{pit, "store.rows[2].drums=3", `unknown item [2] in store.rows`, "allowed: back, front"},
		{pit, "beds[3]={name: shelf, from: 9 ft, to: 10 ft}", `unknown item [3] in beds`, "allowed: south, north"},
		{pit, "beds[2]=none", `unknown item [2] in beds`, "allowed: south, north"},
		{pit, "beds[2]={name: south, from: 9 ft, to: 10 ft}", `"south" stands twice`, ""},
		{box, "store.rows.back.drums=3", `unknown item "back" in store.rows`, "the plan has no store.rows"},
		{pit, "builds.earthwall.r_value=R-3", `unknown name "earthwall" in builds`, `did you mean "earth wall"?`},
		{pit, "builds.insulated roof.layers[0].thickness=1 m", `unknown item [0] in builds.insulated roof.layers`, "the plan has no"},
		{pit, "builds.thin wall.r_value=R-3", `unknown name "thin wall" in builds`, "a new one is written whole: builds.thin wall={...}"},
		{pit, "builds.thin wall=R-3", `unknown name "thin wall" in builds`, "builds.thin wall={...}"},
		{pit, "builds.thin wall=none", `unknown name "thin wall" in builds`, ""},
		{pit, "builds.thin wall={layer: []}", `unknown key "layer"`, `"layers"`},
		{pit, "builds.thin wall={}", "neither layers nor r_value", ""},
		{pit, "builds[3]={r_value: R-3}", `unknown name [3] in builds`, ""},
		{pit, "shape.back_wall=thin wall", `there is no build "thin wall"`, ""},
		{pit, "climate.sun[12]=1 kWh/m2", "climate.sun has no part [12], only [0] to [11]", ""},
		{pit, "climate.dew_point[0]=1 degC", "climate.dew_point is not written in the plan as 12 values", "set all of them"},
		{pit, "climate.sun[1]=none", "climate.sun[1] is needed", ""},
		{box, "cover.fit=50 %", "--set cover.fit=50 %: cover.r_value: is missing", ""},
		{pit, "shape.front_wall=earth wal", `--set shape.front_wall=earth wal: shape.front_wall: there is no build "earth wal"`, `"earth wall"`},
		{pit, "beds.south.to=13 ft", "--set beds.south.to=13 ft: beds[0].to: 13 ft lies outside the house", ""},
		{pit, "beds=[{name: a, from: 1 m, to: 2}]", "--set beds=[{name: a, from: 1 m, to: 2}]: beds[0].to: 2 has no unit", ""},
		{pit, "beds=[{name: a", "beds: not YAML", ""},
		{pit, "leakage.air_changes=1 ach", "plan.yaml:65:13: leakage.per_area: per_area is given beside air_changes", ""},
	} {
		p, findings := Load("plan.yaml", []byte(row.plan), withWeather(), change(t, row.change))
		if p != nil {
			t.Errorf("%s is accepted", row.change)
			continue
		}
		ok := false
		for _, f := range findings {
			ok = ok || strings.Contains(f.Error(), row.wants) && strings.Contains(f.Hint, row.hint)
		}
		if !ok {
			t.Errorf("%s: want %q, %q; have %v", row.change, row.wants, row.hint, AsError(findings))
		}
	}
}

func TestFittedAndWritten(t *testing.T) {
	p := mustLoad(t, pit, Change{"leakage.per_area", "4 cm2/m2", Fitted}, Change{Path: "shape.width", Value: "11 ft"})
	if v, _ := p.Origins.At("leakage.per_area"); v.Origin != Fitted || v.Text != "4 cm2/m2" {
		t.Errorf("a fitted value is %+v", v)
	}
	if v, _ := p.Origins.At("shape.width"); v.Origin != Changed {
		t.Errorf("a changed value is %+v", v)
	}
	_, findings := p.Apply(Change{"leakage.per_area", "4", Fitted})
	if len(findings) != 1 || !strings.HasPrefix(findings[0].Error(), "fit leakage.per_area=4: ") {
		t.Errorf("findings %v", findings)
	}
	c, err := p.Written("shape.depth", 0.9144)
	if want := (Change{"shape.depth", "3 ft", Changed}); err != nil || c != want {
		t.Errorf("0.9144 m is written %+v, %v, want %+v", c, err, want)
	}
	for _, path := range []string{"shape.kind", "cover.x", "site.facing"} {
		if _, err := p.Written(path, 1); err == nil {
			t.Errorf("%s counts as a number", path)
		}
	}
}

// Every number of a good plan can be set through its own path to its own value, and then means the same.
func TestEveryPathIsAChange(t *testing.T) {
	for _, text := range []string{pit, box} {
		good := mustLoad(t, text)
		for v := range good.Origins.All() {
			p, findings := good.Apply(Change{Path: v.Path, Value: v.Text})
			if Failed(findings) {
				t.Errorf("%s=%s: %v", v.Path, v.Text, AsError(findings))
				continue
			}
			w, ok := p.Origins.At(v.Path)
			if !ok || w.Origin != Changed || w.Quantity != v.Quantity || w.Text != v.Text {
				t.Errorf("%s is %+v, was %+v", v.Path, w, v)
			}
		}
	}
}

func TestOrigins(t *testing.T) {
	p := mustLoad(t, pit)
	for _, want := range []Value{
		{Path: "shape.depth", Text: "4 ft", Line: 47, Column: 10, Origin: Given, Doc: "floor below grade"},
		{Path: "store.rows[1].at", Text: "0.5 m", Line: 73, Column: 11, Origin: Given, Doc: "middle of the row, from the inside of the front wall"},
		{Path: "site.time_zone", Text: "America/Denver", Line: 11, Column: 14, Origin: Given},
		{Path: "run.span", Text: "whole year", Line: 87, Column: 6, Origin: Given},
		{Path: "shape.front_height", Text: "0.3 m", Origin: Assumed, Source: "clear of lying snow; own judgement"},
		{Path: "cover.from", Text: "10-15", Origin: Assumed, Source: "own judgement"},
	} {
		got, ok := p.Origins.At(want.Path)
		if want.Doc == "" {
			want.Doc = got.Doc
		}
		got.Quantity = want.Quantity
		if !ok || got != want {
			t.Errorf("%s is %+v, want %+v", want.Path, got, want)
		}
	}
	if _, ok := p.Origins.At("site.facing"); ok {
		t.Error("a value that was left out and has no default has an origin")
	}
}

// What is assumed is listed for the parts a plan has, and only where it is used.
func TestAssumed(t *testing.T) {
	assumed := map[string]bool{}
	for _, v := range mustLoad(t, box).Assumed() {
		if v.Source == "" || v.Text == "" || v.Origin != Assumed {
			t.Errorf("%s: %+v", v.Path, v)
		}
		assumed[v.Path] = true
	}
	for path, want := range map[string]bool{
		"site.albedo": true, "site.soil.texture": true, "frame.dirt": true, "builds.light.inside.emittance": true, "run.warm_up_days": true,
		"cover.fit": false, "snow.seed": false, "site.facing": false, "builds.light.inside.absorptance": false, "run.limit": false,
		"leakage.per_area": false, // air changes are given
	} {
		if assumed[path] != want {
			t.Errorf("%s is assumed: %v, want %v", path, assumed[path], want)
		}
	}
	for _, v := range mustLoad(t, pit).Assumed() {
		if v.Path == "store.rows[1].size" || v.Path == "glazings.two sheets.sheets" {
			t.Errorf("%s is assumed, where it is not used", v.Path)
		}
	}
}

func TestPaths(t *testing.T) {
	for _, name := range []string{"a", "a b", "é", "a.b", "[0]", "x=y", `q"u`, " ", "", "none"} {
		path := item(join("builds", name), 3)
		list, err := steps(path)
		if err != nil || len(list) != 3 || list[1].name != name || list[2].number != 3 {
			t.Errorf("%q is written %s and read %v, %v", name, path, list, err)
		}
		if up := above(path); up != join("builds", name) {
			t.Errorf("above %s is %s", path, up)
		}
	}
}

// A part that is changed and that nothing has is told of; one that the file keeps for another day is not.
func TestIdleParts(t *testing.T) {
	for _, row := range []struct {
		changes []string
		warned  string
	}{
		{nil, ""},
		{[]string{"builds.earth walls={r_value: R-3}"}, "builds.earth walls: nothing in the plan has this build, so that the change does nothing\nhint: did you mean \"earth wall\"?"},
		{[]string{"glazings.sheet={transmittance: 80 %, u_value: 3 W/m2K}"}, "glazings.sheet: nothing in the plan has this glazing"},
		{[]string{"builds.thin wall={r_value: R-3}", "shape.back_wall=thin wall"}, ""},
		{[]string{"builds.earth wall={r_value: R-3}"}, ""},
	} {
		var changes []Change
		for _, c := range row.changes {
			changes = append(changes, change(t, c))
		}
		p, findings := Load("plan.yaml", []byte(pit), withWeather(), changes...)
		told := ""
		for _, f := range findings {
			told += f.Error()
		}
		if p == nil || (row.warned == "") != (told == "") || !strings.Contains(told, row.warned) {
			t.Errorf("%v: %q, want %q", row.changes, told, row.warned)
		}
	}
}

// What a value may be is told in its own unit too, and what it is when left out with the source of that.
func TestRulesAndDefaults(t *testing.T) {
	p := mustLoad(t, pit)
	v, _ := p.Origins.At("shape.depth")
	if limits, _ := Rule("shape.depth", v.Quantity); limits != "0 m to 4 m (0 ft to 13.12 ft)" {
		t.Error(limits)
	}
	if limits, words := Rule("shape.kind", v.Quantity); limits != "" || len(words) != 2 {
		t.Error(limits, words)
	}
	if text, source := Default("store.rows[0].fill"); text != "95 %" || source == "" {
		t.Error(text, source)
	}
	if text, source := Default("no.such"); text+source != "" {
		t.Error(text, source)
	}
}
