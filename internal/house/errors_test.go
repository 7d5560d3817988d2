package house

import (
	"strings"
	"testing"

	"suncellar/internal/plan"
)

// furnished is the pit with a part of each kind.
const furnished = pit + `
beds: [{name: bed, from: 0.2 m, to: 1.4 m}]
cold_sink: {from: 1.5 m, to: 2 m, depth: 0.4 m}
store: {rows: [{name: row, drums: 6, tiers: 1, at: 3.4 m}]}
windows: [{name: pane, in: back wall, width: 0.5 m, height: 0.4 m, glazing: twin_wall_10mm}]
tubes: [{name: four, count: 4, diameter: 100 mm, length: 5 m, depth: 1 m, inlet: {height: 0.1 m}, outlet: {height: 1.5 m}}]
`

// Everything that cannot be built is told with the value and what is allowed.
func TestWhatCannotBeBuilt(t *testing.T) {
	for _, c := range []struct {
		name    string
		changes []string
		alter   func(p *plan.Plan) // of what no checked plan would have
		path    string
		want    string
	}{
		{name: "roofs that do not meet", alter: func(p *plan.Plan) { *p.Shape.GlazingSlope = 14 * degrees }, path: "shape.glazing_slope",
			want: "glazing and back roof do not meet over the house: they would meet 4.00 m behind the front wall at 1.30 m above grade, must be between 0 and 4.00 m and above the back wall"},
		{name: "lean-to that falls to the back", changes: []string{"shape.kind=lean-to", "shape.glazing_slope=none", "shape.back_roof=none", "shape.back_roof_slope=none"},
			alter: func(p *plan.Plan) { p.Shape.FrontHeight = 1.5 }, path: "shape.back_height", want: "back wall is 1.30 m above grade, must be higher than the front wall's 1.50 m"},
		{name: "a window larger than its wall", changes: []string{"windows[0].width=9 m", "windows[0].height=2 m"}, path: "windows[0]",
			want: "pane has 18.00 m², but back wall has only 7.80 m² left above grade"},
		{name: "a window in the floor", changes: []string{"windows[0].in=floor"}, path: "windows[0]", want: "floor has no part above grade to hold pane"},
		{name: "leaves through the glazing", changes: []string{"beds[0].leaf_height=2.9 m"}, path: "beds[0]", want: "the leaves of bed, 3.10 m above the floor, are not inside the house"},
		{name: "a bed over the sink", alter: func(p *plan.Plan) { p.Beds[0].To = 1.7 }, path: "beds[0]", want: "bed, 0.20 to 1.70 m from the front wall, does not lie on the level floor"},
		{name: "a sink beyond the wall", alter: func(p *plan.Plan) { p.ColdSink.To = 5 }, path: "cold_sink", want: "cold sink from 1.50 m to 5.00 m does not lie in a level floor"},
		{name: "drums through the roof", changes: []string{"store.rows[0].tiers=4"}, path: "store.rows[0]", want: "above the floor, is not inside the house at 3.40 m from the front wall"},
		{name: "a row longer than the house", changes: []string{"store.rows[0].drums=30"}, path: "store.rows[0].drums", want: "30 drums in 1 tiers take 17.40 m, the house is 6.00 m long"},
		{name: "more bays than drums", alter: func(p *plan.Plan) { p.Store.Rows[0].Bays = 7 }, path: "store.rows[0].bays", want: "7 bays for 6 drums, must be at most as many"},
		{name: "a drum nobody makes", alter: func(p *plan.Plan) { p.Store.Rows[0].Size = "thimble" }, path: "store.rows[0].size",
			want: `drum size "thimble" is not known, must be one of drum 55 gal, steel drum 55 gal, tote 275 gal, tote 330 gal`},
		{name: "a leak above the drums", alter: func(p *plan.Plan) {
			level := 2.5
			p.Store.Events = []plan.StoreEvent{{Kind: "leak", Bay: p.Store.Rows[0].Name, Level: &level}}
		}, path: "store.events[0].level", want: "2.50 m is above the top of "},
		{name: "more water than room", alter: func(p *plan.Plan) {
			width, height := 1.9, 2.0
			p.Store.Rows[0].Diameter, p.Store.Rows[0].Height, p.Store.Rows[0].At = &width, &height, 2
			p.Store.Rows[0].Drums, p.Store.Rows[0].Tiers = 3, 1
			p.Store.Rows = append(p.Store.Rows, p.Store.Rows[0], p.Store.Rows[0], p.Store.Rows[0])
		}, path: "store", want: "drums and beds fill the house: "},
		{name: "a floor taken off", changes: []string{"taken_off=[{face: floor, from: 05-01, until: 09-30}]"}, path: "taken_off[0].face", want: "floor has no part with outdoor air behind it"},
		{name: "glazing in a roof of boards", changes: []string{"taken_off=[{face: back roof, instead: twin_wall_10mm, from: 05-01, until: 09-30}]"}, path: "taken_off[0].instead",
			want: "back roof is not glazed, and no glazing can hang there meanwhile"},
		{name: "tubes wider than the floor", changes: []string{"tubes[0].count=20"}, path: "tubes[0]",
			want: "20 lengths of tube side by side in 1 tiers take 9.61 m, from -2.80 to 6.80 m behind the front wall, must lie between 0.00 and 4.00 m"},
		{name: "long tubes lie to and fro", changes: []string{"tubes[0].length=20 m"}, path: "tubes[0]", want: "16 lengths of tube side by side in 1 tiers take 7.61 m"},
		{name: "tubes through the sink", changes: []string{"tubes[0].depth=0.4 m"}, path: "tubes[0].depth", want: "meets the room"},
		{name: "tubes in water", changes: []string{"site.water_table=2 m"}, path: "tubes[0].depth", want: "below grade, the ground water stands at 2.00 m"},
		{name: "tubes deeper than the ground", changes: []string{"tubes[0].depth=4 m", "ground.reach=3 m"}, path: "tubes[0].depth", want: "below grade, the ground is reckoned to "},
		{name: "soil deeper than the ground", changes: []string{"site.soil_layers=[{to: 1 m, texture: sand}, {to: 9.2 m, texture: clay}]", "ground.reach=7 m"}, path: "site.soil_layers[1].to",
			want: "the layer reaches 9.20 m below grade, must end above "},
		{name: "a footing narrower than its wall", changes: []string{"ground.footings=[{under: back wall, material: concrete_dense, width: 20 cm, thickness: 30 cm}]"}, path: "ground.footings[0].width",
			want: "the footing under the back wall is 0.20 m wide, the wall 0.25 m thick"},
		{name: "a footing under bare earth", changes: []string{"shape.front_height=0 m", "shape.front_wall=thin", "ground.footings=[{under: front wall, material: concrete_dense, width: 50 cm, thickness: 30 cm}]"},
			alter: func(p *plan.Plan) { p.Shape.FrontWall = plan.BareEarth }, path: "ground.footings[0].under", want: "the front wall has no build to stand on a footing"},
		{name: "a footing through the sink", changes: []string{"cold_sink.from=0 m", "cold_sink.to=0.15 m", "ground.footings=[{under: front wall, material: concrete_dense, width: 65 cm, thickness: 30 cm}]"}, path: "ground.footings[0]",
			want: "the footing under front wall cuts through the room"},
		{name: "a footing of drums under the wall", changes: []string{"ground.footings=[{under: row, material: concrete_dense, width: 1.4 m, thickness: 30 cm}]"}, path: "ground.footings[0].width",
			want: "the footing under row, 2.70 to 4.10 m behind the front wall, does not lie under the level floor"},
		{name: "a footing deeper than the ground", alter: func(p *plan.Plan) {
			p.Ground.Footings = []plan.Footing{{Under: "back wall", Material: "concrete_dense", Width: 0.5, Thickness: 9}}
		}, path: "ground.footings[0].thickness", want: "the footing under back wall reaches 10.20 m below grade, the ground is reckoned to 9.60 m"},
		{name: "a footing in water", changes: []string{"tubes=none", "site.water_table=1.7 m", "ground.footings=[{under: back wall, material: concrete_dense, width: 50 cm, thickness: 60 cm}]"}, path: "ground.footings[0].thickness",
			want: "the footing under back wall reaches 1.80 m below grade, the ground water stands at 1.70 m"},
		{name: "a footing on tubes", changes: []string{"tubes[0].depth=50 cm", "cold_sink=none", "tubes[0].at=3 m", "ground.footings=[{under: row, material: concrete_dense, width: 60 cm, thickness: 50 cm}]"}, path: "ground.footings[0]",
			want: "a tube of four, 1.70 m under grade, lies in the footing under row"},
		{name: "tubes too near the wall", changes: []string{"tubes[0].under=outside behind", "tubes[0].at=0.2 m"}, path: "tubes[0]", want: "4 lengths of tube side by side"},
		{name: "an end above the roof", changes: []string{"tubes[0].outlet.height=9 m"}, path: "tubes[0].outlet.height", want: "this end of four is 9.00 m above the floor, must be -0.40 to "},
		{name: "an end under grade", changes: []string{"tubes[0].inlet.in=outdoors", "tubes[0].inlet.height=-1 m"}, path: "tubes[0].inlet.height", want: "this end of four is -1.00 m above grade, must be 0.00 to 10.00 m"},
		{name: "an end below the tubes", changes: []string{"tubes[0].under=outside in front", "tubes[0].depth=30 cm", "tubes[0].inlet.height=-0.2 m"}, path: "tubes[0].inlet.height",
			want: "below the top of the tubes"},
		{name: "no build for the ends", alter: func(p *plan.Plan) { p.Ends.Build = "" }, path: "ends.build", want: "left end has no build"},
		{name: "a build that is not there", alter: func(p *plan.Plan) { p.Shape.BackRoof = "straw" }, path: "shape.back_roof", want: `no build is called "straw"`},
		{name: "a roof of earth", alter: func(p *plan.Plan) { p.Shape.BackRoof = plan.BareEarth }, path: "shape.back_roof", want: "back roof is bare earth but has no soil behind it"},
		{name: "a glazing that is not there", alter: func(p *plan.Plan) { p.Shape.Glazing = "ice" }, path: "shape.glazing", want: "ice"},
		{name: "a material that is not there", alter: func(p *plan.Plan) { p.Builds["wall"].Layers[0].Material = "ice" }, path: "builds.wall.layers[0].material", want: "ice"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := read(t, at(furnished, "45"), c.changes...)
			if c.alter != nil {
				c.alter(p)
			}
			_, bad := Resolve(p)
			for _, f := range bad {
				if strings.Contains(f.Message, c.want) && f.Path == c.path {
					return
				}
			}
			t.Errorf("want %s: %s\ngot %v", c.path, c.want, bad)
		})
	}
}

// A bed needs ground under it: its soil is part of the slice.
func TestABedLiesOnSoil(t *testing.T) {
	text := strings.Replace(at(gable, "45"), "build: bare earth}", "build: thin, behind: air}", 1) + "beds: [{name: bed, from: 0.3 m, to: 1.2 m}]\n"
	_, bad := Resolve(read(t, text))
	if len(bad) != 1 || bad[0].Path != "beds[0]" || bad[0].Message != "bed lies on a floor with no soil under it" {
		t.Errorf("%v", bad)
	}
}

// All that is wrong is told at once, each at its own place.
func TestAllThatIsWrongIsTold(t *testing.T) {
	_, bad := Resolve(read(t, at(furnished, "45"), "windows[0].in=floor", "beds[0].leaf_height=2.9 m", "store.rows[0].drums=30"))
	if len(bad) != 3 {
		t.Fatalf("%d findings, want 3: %v", len(bad), bad)
	}
	for _, f := range bad {
		if f.Severity != plan.Error || f.Hint == "" {
			t.Errorf("%v: severity %v, hint %q", f, f.Severity, f.Hint)
		}
	}
}
