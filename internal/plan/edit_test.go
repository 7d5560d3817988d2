package plan

import (
	"errors"
	"strings"
	"testing"
)

// Each row is a text, a change and the text after it.
var edits = []struct{ what, before, change, after string }{
	{"a value among comments", "shape:\n  depth: 4 ft   # to the rock\n  width: 12 ft\n", "shape.depth=1.2 m", "shape:\n  depth: 1.2 m   # to the rock\n  width: 12 ft\n"},
	{"a value in brackets", "site: {latitude: 40 deg, elevation: 0 m}\n", "site.latitude=41 deg", "site: {latitude: 41 deg, elevation: 0 m}\n"},
	{"one of twelve", "climate:\n  wet_days: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]\n", "climate.wet_days[1]=22", "climate:\n  wet_days: [1, 22, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]\n"},
	{"twelve on lines of their own", "climate:\n  wet_days:\n  - 1\n  - 2 # wet\n  - 3\n  - 4\n  - 5\n  - 6\n  - 7\n  - 8\n  - 9\n  - 10\n  - 11\n  - 12\n", "climate.wet_days[1]=22", "climate:\n  wet_days:\n  - 1\n  - 22 # wet\n  - 3\n  - 4\n  - 5\n  - 6\n  - 7\n  - 8\n  - 9\n  - 10\n  - 11\n  - 12\n"},
	{"all of a list", "climate:\n  wet_days: [1, 2] # c\n", "climate.wet_days=[3, 4]", "climate:\n  wet_days: [3, 4] # c\n"},
	{"an item by name", "store:\n  rows:\n    - {name: back, drums: 12}\n    - name: front\n      drums: 4\n", "store.rows.front.drums=5", "store:\n  rows:\n    - {name: back, drums: 12}\n    - name: front\n      drums: 5\n"},
	{"line ends of Windows", "shape:\r\n  depth: 4 ft\r\nname: x\r\n", "shape.depth=1 m", "shape:\r\n  depth: 1 m\r\nname: x\r\n"},
	{"a byte order mark", "\ufeffname: é # é\nunits: US\n", "name=ö", "\ufeffname: ö # é\nunits: US\n"},
	{"quotes are kept", "name: 'a b' # c\n", "name=it's", "name: 'it''s' # c\n"},
	{"double quotes are kept", `cover: {hours: "16:00-08:00"}`, "cover.hours=17:00-08:00", `cover: {hours: "17:00-08:00"}`},
	{"quotes that were needed go", "name: \"a: b\"\n", "name=a", "name: a\n"},
	{"a colon", "name: a\n", "name=a: b", "name: \"a: b\"\n"},
	{"a comment sign", "name: a\n", "name=a #1", "name: \"a #1\"\n"},
	{"a dash", "name: a\n", "name=- a", "name: \"- a\"\n"},
	{"a yes for a name", "name: a\n", "name=yes", "name: \"yes\"\n"},
	{"a yes of the plan", "tubes:\n  - drain: no # c\n", "tubes[0].drain=yes", "tubes:\n  - drain: yes # c\n"},
	{"a number for a name", "name: a\n", "name=2024", "name: \"2024\"\n"},
	{"a negative number", "site:\n  longitude: 1 deg\n", "site.longitude=-105.5 deg", "site:\n  longitude: -105.5 deg\n"},
	{"a comma in brackets", "site: {place: here}\n", "site.place=here, there", "site: {place: \"here, there\"}\n"},
	{"a comma on a line", "site:\n  place: here\n", "site.place=here, there", "site:\n  place: here, there\n"},
	{"a number after a comma without a blank", "climate: {wet_days: [1,.2,3]}\n", "climate.wet_days[1]=22", "climate: {wet_days: [1, 22 ,3]}\n"},
	{"a number before a comma without a blank", "climate: {wet_days: [1.,2.,3]}\n", "climate.wet_days[1]=22", "climate: {wet_days: [1.,22 ,3]}\n"},
	{"a number between numbers without blanks", "climate: {wet_days: [1,2,3]}\n", "climate.wet_days[1]=22", "climate: {wet_days: [1, 22 ,3]}\n"},
	{"an alias's sign", "name: a\n", "name=*a", "name: \"*a\"\n"},
	{"a wrong value", "shape:\n  depth: 4 ft\n", "shape.depth=four", "shape:\n  depth: four\n"},

	{"a key that is not there, in the order of the table", "shape:\n  kind: pit # c\n\n  # wide\n  width: 4 m\n", "shape.length=6 m", "shape:\n  kind: pit # c\n  length: 6 m\n\n  # wide\n  width: 4 m\n"},
	{"a key before all others", "shape:\n  width: 4 m\n  depth: 1 m\nname: x\n", "shape.kind=pit", "shape:\n  width: 4 m\n  depth: 1 m\n  kind: pit\nname: x\n"},
	{"a key in brackets", "site: {latitude: 40 deg, elevation: 0 m}\n", "site.longitude=3 deg", "site: {latitude: 40 deg, longitude: 3 deg, elevation: 0 m}\n"},
	{"a key in empty brackets", "frame: {} # c\n", "frame.dirt=5 %", "frame: {dirt: 5 %} # c\n"},
	{"a key at the end without a line end", "name: x", "units=US", "name: x\nunits: US"},
	{"a key at the end with line ends of Windows", "name: x\r\nnotes: y", "units=US", "name: x\r\nnotes: y\r\nunits: US"},
	{"a key of an item", "beds:\n  - name: a\n    from: 1 m\n  - {name: b}\n", "beds.a.to=2 m", "beds:\n  - name: a\n    from: 1 m\n    to: 2 m\n  - {name: b}\n"},
	{"a key of an item in brackets", "beds:\n  - name: a\n  - {name: b}\n", "beds.b.from=2 m", "beds:\n  - name: a\n  - {name: b, from: 2 m}\n"},
	{"a key after a part on lines of its own", "doors:\n  - in: a\n    name: b # last\n# cover\nbeds: []\n", "cover.r_value=R-4", "doors:\n  - in: a\n    name: b # last\ncover: {r_value: R-4}\n# cover\nbeds: []\n"},
	{"a key after lines of text", "notes: |\n  one\n\n  two\n\nsite: {}\n", "units=US", "notes: |\n  one\n\n  two\nunits: US\n\nsite: {}\n"},
	{"a key after a part with a comment of its own", "shape:\n  kind: pit\n  # length: 5 m\n# low\nends: {}\n", "windows[0]={name: w, count: 2}", "shape:\n  kind: pit\n  # length: 5 m\n# low\nends: {}\nwindows:\n  - {name: w, count: 2}\n"},
	{"a part after a comment of the one before", "shape:\n  kind: pit\n  # length: 5 m\n# low\nbeds: []\n", "ends={}", "shape:\n  kind: pit\n  # length: 5 m\nends: {}\n# low\nbeds: []\n"},
	{"between the marks of a document", "---\nname: x # c\n...\n", "units=US", "---\nname: x # c\nunits: US\n...\n"},
	{"a plan in brackets", "{name: x, site: {place: y}}", "site.place=z", "{name: x, site: {place: z}}"},
	{"a part", "name: x\nbeds: []\n", "cover={r_value: R-4}", "name: x\ncover: {r_value: R-4}\nbeds: []\n"},
	{"a part within a part", "ends: {}\n", "ends.left.build=wall", "ends: {left: {build: wall}}\n"},
	{"a list of parts", "site:\n  latitude: 1 deg\nname: x\n", "site.horizon=[{azimuth: 0 deg, elevation: 5 deg}, {azimuth: 9 deg, elevation: 6 deg}]",
		"site:\n  latitude: 1 deg\n  horizon:\n    - {azimuth: 0 deg, elevation: 5 deg}\n    - {azimuth: 9 deg, elevation: 6 deg}\nname: x\n"},
	{"a list of parts in brackets", "site: {latitude: 1 deg}\n", "site.horizon=[{azimuth: 0 deg, elevation: 5 deg}]", "site: {latitude: 1 deg, horizon: [{azimuth: 0 deg, elevation: 5 deg}]}\n"},
	{"a name", "sun_shares:\n  floor: 50 %\n", "sun_shares.back wall=10 %", "sun_shares:\n  floor: 50 %\n  back wall: 10 %\n"},
	{"a name in brackets", "sun_shares: {floor: 50 %}\n", `sun_shares."a, b"=10 %`, "sun_shares: {floor: 50 %, \"a, b\": 10 %}\n"},
	{"a new named part", "builds:\n  roof: {r_value: R-30} # thick\n  # thin\n\nends: {build: roof}\n", "builds.wall={layers: [{material: xps, thickness: 50 mm}]}",
		"builds:\n  roof: {r_value: R-30} # thick\n  wall: {layers: [{material: xps, thickness: 50 mm}]}\n  # thin\n\nends: {build: roof}\n"},
	{"a new named part after one on lines of its own", "builds:\n  roof:\n    layers:\n      - material: xps\n        thickness: 5 cm # or 6\nname: x\n", "builds.thin wall={r_value: R-3}", "builds:\n  roof:\n    layers:\n      - material: xps\n        thickness: 5 cm # or 6\n  thin wall: {r_value: R-3}\nname: x\n"},
	{"a new named part in brackets", "builds: {roof: {r_value: R-30}}\n", "builds.wall={r_value: R-3}", "builds: {roof: {r_value: R-30}, wall: {r_value: R-3}}\n"},
	{"the first named part", "name: x\nshape:\n  kind: pit\n", "builds.wall={r_value: R-3}", "name: x\nbuilds: {wall: {r_value: R-3}}\nshape:\n  kind: pit\n"},
	{"the first named part of a key without a value", "builds: # none yet\nname: x\n", "builds.wall={r_value: R-3}", "builds: {wall: {r_value: R-3}} # none yet\nname: x\n"},
	{"a new named part whose name needs quotes", "builds:\n  roof: {r_value: R-30}\n", `builds."a: b #2"={r_value: R-3}`, "builds:\n  roof: {r_value: R-30}\n  \"a: b #2\": {r_value: R-3}\n"},
	{"a glazing of one's own", "glazings:\n  old: {transmittance: 60 %, u_value: 3 W/m2K}\n", "glazings.sheet={transmittance: 80 %, u_value: 3 W/m2K}", "glazings:\n  old: {transmittance: 60 %, u_value: 3 W/m2K}\n  sheet: {transmittance: 80 %, u_value: 3 W/m2K}\n"},
	{"a key without a value", "cover: # quilt\nname: x\n", "cover.r_value=R-4", "cover: {r_value: R-4} # quilt\nname: x\n"},
	{"a value of nothing", "shape:\n  depth: ~\n", "shape.depth=1 m", "shape:\n  depth: 1 m\n"},
	{"beside a short value", "run: whole year # all\n", "run.seed=7", "run: {span: whole year, seed: 7} # all\n"},
	{"a short value by its key", "run: whole year # all\n", "run.span=winter", "run: winter # all\n"},
	{"a short value of a vent", "vents: [{name: a, wax: 21 degC}]\n", "vents.a.wax.lag=10 min", "vents: [{name: a, wax: {opens_at: 21 degC, lag: 10 min}}]\n"},

	{"the item after the last", "beds:\n  - {name: a}\n  - name: b # c\n    from: 1 m\n\nname: x\n", "beds[2]={name: c}", "beds:\n  - {name: a}\n  - name: b # c\n    from: 1 m\n  - {name: c}\n\nname: x\n"},
	{"an item in brackets", "beds: [{name: a}]\n", "beds[1]={name: c}", "beds: [{name: a}, {name: c}]\n"},
	{"the first item", "beds: []\n", "beds[0]={name: c}", "beds: [{name: c}]\n"},
	{"the first item of a list that is not there", "name: x\n", "beds[0]={name: c}", "name: x\nbeds:\n  - {name: c}\n"},
	{"a row with a number in a store that is not there", "name: x\n", "store.rows[0]={name: a, drums: 3}", "name: x\nstore: {rows: [{name: a, drums: 3}]}\n"},
	{"dashes under their key", "beds:\n- {name: a}\nname: x\n", "beds[1]={name: b}", "beds:\n- {name: a}\n- {name: b}\nname: x\n"},

	{"a key out", "shape:\n  # deep\n  depth: 4 ft # c\n  # wide\n  width: 2 m\n", "shape.depth=none", ""},
	{"an optional key out", "site:\n  # said\n  place: here # c\n  # high\n  elevation: 2 m\n", "site.place=none", "site:\n  # said\n  # high\n  elevation: 2 m\n"},
	{"the last line out", "name: x\nunits: US", "units=none", "name: x\n"},
	{"a part out", "name: x\ncover:\n  r_value: R-4 # thick\n  hours: always\n# beds\nbeds: []\n", "cover=none", "name: x\n# beds\nbeds: []\n"},
	{"a key in brackets out", "frame: {dirt: 5 %, share: 8 %, age: 3 yr}\n", "frame.share=none", "frame: {dirt: 5 %, age: 3 yr}\n"},
	{"the last key in brackets out", "frame: {dirt: 5 %, share: 8 %}\n", "frame.share=none", "frame: {dirt: 5 %}\n"},
	{"the only key in brackets out", "frame: {dirt: 5 %} # c\n", "frame.dirt=none", "frame: {} # c\n"},
	{"the only key out", "frame:\n  dirt: 5 % # c\nname: x\n", "frame.dirt=none", "frame: {}\nname: x\n"},
	{"the only key under a comment out", "frame: # all\n  dirt: 5 % # c\nname: x\n", "frame.dirt=none", "frame: # all\n  {}\nname: x\n"},
	{"an item out", "beds:\n  - {name: a} # c\n  # second\n  - name: b\n    from: 1 m\n  - {name: c}\n", "beds.b=none", "beds:\n  - {name: a} # c\n  # second\n  - {name: c}\n"},
	{"the only item out", "snow:\n  list:\n    - {date: 12-24, depth: 2 cm}\n", "snow.list[0]=none", "snow:\n  list: []\n"},
	{"an item in brackets out", "beds: [{name: a}, {name: b}]\n", "beds[0]=none", "beds: [{name: b}]\n"},
	{"an item in brackets on its line out", "beds: [\n  {name: a}, # one\n  {name: b}, # two\n]\n", "beds[1]=none", "beds: [\n  {name: a}, # one\n]\n"},
	{"the key behind a dash out", "builds:\n  w:\n    layers:\n      - material: xps # c\n        r_value: R-3\n", "builds.w.layers[0].material=none", "builds:\n  w:\n    layers:\n      - r_value: R-3\n"},
	{"the key behind a dash out, before a comment", "builds:\n  w:\n    layers:\n      - material: xps # c\n        # bare\n        r_value: R-3\n", "builds.w.layers[0].material=none", "builds:\n  w:\n    layers:\n      -\n        # bare\n        r_value: R-3\n"},
	{"a key that is not there out", "name: x\n", "cover.fit=none", "name: x\n"},

	{"several lines", "notes: >\n  one\n  two\n\n# end\nname: x\n", "notes=three", "notes: three\n\n# end\nname: x\n"},
	{"to several lines", "notes: one\nname: x\n", "notes=one\n\n- two: 2", "notes: |\n  one\n\n  - two: 2\nname: x\n"},
	{"several lines that were not there", "name: x\r\nunits: SI\r\n", "notes=one\ntwo", "name: x\r\nnotes: |\r\n  one\r\n  two\r\nunits: SI\r\n"},
	{"words over two lines", "notes: one\n  two # c\nname: x\n", "notes=three", "notes: three # c\nname: x\n"},
	{"quotes over two lines", "notes: \"one\n  two\" # c\nname: x\n", "notes=three", "notes: \"three\" # c\nname: x\n"},
	{"a part on lines by one in brackets", "site:\n  soil:\n    texture: clay\n    moisture: 50 %\n  place: x\n", "site.soil={texture: loam}", "site:\n  soil: {texture: loam}\n  place: x\n"},
	{"a list in brackets over lines", "beds: [{name: a}]\n", "beds=[\n  {name: b}, # c\n]", "beds: [{name: b}]\n"},
}

func TestEdit(t *testing.T) {
	for _, row := range edits {
		c, err := ParseChange(row.change)
		if err != nil {
			t.Fatal(err)
		}
		after, err := Edit("p", []byte(row.before), c)
		if row.after == "" {
			if err == nil || string(after) != row.before {
				t.Errorf("%s: %q, %v", row.what, after, err)
			}
			continue
		}
		if err != nil || string(after) != row.after {
			t.Errorf("%s: %s\nhave %q\nwant %q, %v", row.what, row.change, after, row.after, err)
			continue
		}
		again, err := Edit("p", after, c)
		if one := strings.Contains(row.change, "[0]=none") || strings.Contains(row.change, "[1]=none") || strings.HasSuffix(row.change, ".b=none"); !one && (err != nil || string(again) != row.after) {
			t.Errorf("%s: made twice it gives %q, %v", row.what, again, err)
		}
	}
}

func TestRefusedEdits(t *testing.T) {
	for _, row := range []struct{ what, before, change, wants, hint string }{
		{"no YAML", "a: [", "name=x", "p:1:", ""},
		{"nothing", "", "name=x", "the plan is empty", "suncellar: 1"},
		{"a document of nothing", "~", "beds[0]={name: c}", "p:1:1: beds[0]: nothing stands here", "whole"},
		{"a document of a word", "name", "name=x", "p:1:1: name: a single value stands here", "whole"},
		{"a document of a list", "- a\n", "name=x", "p:1:1: name: a list stands here", "whole"},
		{"an unknown key", "name: x\n", "shap.depth=1 m", `unknown key "shap"`, "shape"},
		{"a needed key out", "name: x\n", "name=none", "needed", ""},
		{"half a named part", "builds: {roof: {r_value: R-30}}\n", "builds.wall.r_value=R-3", `unknown name "wall"`, "written whole"},
		{"a named part of a list", "builds: [{r_value: R-30}]\n", "builds.wall={r_value: R-3}", "a list stands here", "whole"},
		{"a named part that is no YAML", "builds: {roof: {r_value: R-30}}\n", "builds.wall={r_value: R-3", "not YAML", ""},
		{"an item far behind the last", "beds: [{name: a}]\n", "beds[2]={name: c}", "unknown item [2]", "a"},
		{"a key of an item behind the last", "beds: [{name: a}]\n", "beds[1].name=c", "unknown item [1]", "a"},
		{"a part of a single value", "shape: 4\n", "shape.depth=1 m", "p:1:8: shape.depth: a single value stands here", "whole"},
		{"an item of keys", "beds: {a: 1}\n", "beds[0]={name: c}", "keys with values stands here", "whole"},
		{"a key of a list of keys", "beds: {a: {from: 1 m}}\n", "beds.a.from=2 m", "p:1:7: beds.a.from: keys with values stands here", "whole"},
		{"a key of keys that are a list", "site:\n  soil:\n    - {name: texture}\n", "site.soil.texture=clay", "p:3:5: site.soil.texture: a list stands here", "whole"},
		{"an anchor", "name: x\nshape:\n  depth: &d 4 ft\n  width: 2 m\n", "shape.depth=1 m", "p:3:10: shape.depth: anchors and aliases", "write the value out"},
		{"an alias", "name: &d x\nshape:\n  depth: *d\n", "shape.depth=1 m", "p:3:10: shape.depth: anchors and aliases", "write the value out"},
		{"beside a merge key", "name: x\nrun:\n  seed: 1\n  <<: *r\ncover: {r_value: R-4}\n", "run=none", "p:4:3: run: merge keys", "write the keys out"},
		{"beside a second document", "name: x\n---\nname: y\n", "name=z", "p:3:1: name: a second document", ""},
		{"beside a decimal comma", "name: x\nshape: {depth: 1,2 m}\n", "shape.depth=1.2 m", "p:2:17: shape.depth: a decimal comma", "write a point"},
		{"with an anchor that another value needs", "frame: {dirt: &d 5 %}\nname: *d\n", "frame=none", "this cannot be written", "by hand"},
		{"behind an anchor", "name: x\nrun: &r\n  seed: 4\n", "run.seed=1", "anchors and aliases", ""},
	} {
		after, err := Edit("p", []byte(row.before), change(t, row.change))
		var f Finding
		if string(after) != row.before || err == nil || !strings.Contains(err.Error(), row.wants) || !errors.As(err, &f) || !strings.Contains(f.Hint, row.hint) {
			t.Errorf("%s: %q, %v; want %q, %q", row.what, after, err, row.wants, row.hint)
		}
	}
	// An anchor elsewhere keeps no other value from being edited.
	after, err := Edit("p", []byte("name: &d x\nshape:\n  depth: 4 ft\n"), change(t, "shape.depth=1 m"))
	if err != nil || string(after) != "name: &d x\nshape:\n  depth: 1 m\n" {
		t.Errorf("beside an anchor: %q, %v", after, err)
	}
	// Of several changes all are made or none.
	after, err = Edit("p", []byte("name: x\n"), change(t, "name=y"), change(t, "nme=z"))
	if err == nil || string(after) != "name: x\n" {
		t.Errorf("the second of two is wrong: %q, %v", after, err)
	}
}

func TestRange(t *testing.T) {
	text := "\ufeffname: 'é x' # é\r\nshape:\r\n  depth: 4 ft # c\r\n  width: 2 m\r\nbeds:\r\n  - {name: a, from: 1 m}\r\n  - name: b\r\n    to: 3 m\r\ncover:\r\nnotes: |\r\n  one\r\n  two\r\n\r\n"
	for path, want := range map[string]string{
		"name": "'é x'", "shape.depth": "4 ft", "shape": "depth: 4 ft # c\r\n  width: 2 m", "beds[0]": "{name: a, from: 1 m}", "beds.a.from": "1 m",
		"beds[1].to": "3 m", "beds": "- {name: a, from: 1 m}\r\n  - name: b\r\n    to: 3 m", "notes": "|\r\n  one\r\n  two", "cover": "",
	} {
		from, to, ok := Range([]byte(text), path)
		if !ok || text[from:to] != want {
			t.Errorf("%s is %q, want %q", path, text[from:to], want)
		}
	}
	for _, path := range []string{"units", "beds[2]", "shape.depth.x", "", "a..b", "beds.c", "beds.from", "nme", "nme.x"} {
		if _, _, ok := Range([]byte(text), path); ok {
			t.Errorf("%s stands in the text", path)
		}
	}
}
