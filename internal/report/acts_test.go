package report

import (
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// resolved is an example with changes, as text and as a house.
func resolved(t *testing.T, text []byte, changes ...string) *house.House {
	t.Helper()
	for _, c := range changes {
		one, err := plan.ParseChange(c)
		if err != nil {
			t.Fatal(err)
		}
		if text, err = plan.Edit("plan.yaml", text, one); err != nil {
			t.Fatal(err)
		}
	}
	return houseOf(t, "plan.yaml", text)
}

// example is the text of an example.
func example(t *testing.T, name string) []byte {
	t.Helper()
	for _, e := range examples.All() {
		if e.Name == name {
			return e.Plan
		}
	}
	t.Fatalf("no example %s", name)
	return nil
}

// actsOf are the acts of the first handle whose name begins so, as label and changes.
func actsOf(t *testing.T, teller Teller, h *house.House, name string) string {
	t.Helper()
	for _, g := range Handles(h) {
		if strings.HasPrefix(g.Name, name) {
			return written(teller.Acts(h, g))
		}
	}
	t.Fatalf("no handle %q", name)
	return ""
}

func written(acts []Act) string {
	var list []string
	for _, a := range acts {
		for _, c := range a.Changes {
			list = append(list, a.Label+": "+c.String())
		}
	}
	return strings.Join(list, "; ")
}

func TestActs(t *testing.T) {
	us := Teller{System: unit.US}
	for _, row := range []struct {
		teller  Teller
		text    []byte
		changes []string
		handle  string
		want    string
	}{
		{Teller{}, examples.LarchHollow, nil, "back drums", "Add a drum to this row: store.rows[0].drums=21; Take a drum away: store.rows[0].drums=19"},
		{Teller{}, examples.LarchHollow, []string{"store.rows[0].drums=30"}, "back drums", "Take a drum away: store.rows[0].drums=29"}, // fifteen of 58 cm stand side by side in 9 m
		{Teller{}, examples.LarchHollow, []string{"store.rows[0].drums=4"}, "back drums", "Add a drum to this row: store.rows[0].drums=5"},
		{Teller{}, examples.LarchHollow, nil, "back roof: how thick its mineral wool", "1 cm thicker: builds.roof.layers[1].thickness=190 mm; 1 cm thinner: builds.roof.layers[1].thickness=170 mm"},
		{Teller{}, examples.LarchHollow, nil, "board in the ground: how thick", "1 cm thicker: ground.boards[0].thickness=60 mm; 1 cm thinner: ground.boards[0].thickness=40 mm"},
		{Teller{}, examples.LarchHollow, nil, "front bed", ""},
		{Teller{}, examples.LarchHollow, nil, "night cover", "Put a night cover on the glazing: cover={r_value: 0.7 m2K/W}"},
		{us, examples.LarchHollow, []string{"builds.roof={r_value: R-19}"}, "back roof: what its insulation resists", "Add R-1: builds.roof.r_value=R-20; Take R-1 away: builds.roof.r_value=R-18"},
		{us, example(t, "quail-ridge.yaml"), nil, "night cover", "Add R-1: cover.r_value=R-6; Take R-1 away: cover.r_value=R-4; Take the night cover off: cover=none"},
		{us, example(t, "quail-ridge.yaml"), nil, "back wall: how thick its xps", "½ in thicker: builds.block wall.layers[1].thickness=3.5 in; ½ in thinner: builds.block wall.layers[1].thickness=2.5 in"},
	} {
		if got := actsOf(t, row.teller, resolved(t, row.text, row.changes...), row.handle); got != row.want {
			t.Errorf("%s after %v:\nhave %s\nwant %s", row.handle, row.changes, got, row.want)
		}
	}
}

// A house without drums gets its first row, which the plan allows; where it has no room none is offered.
func TestFirstRow(t *testing.T) {
	h := resolved(t, examples.LarchHollow, "store=none", "water=none")
	acts := Teller{}.HouseActs(h)
	if got := written(acts); got != "Put a night cover on the glazing: cover={r_value: 0.7 m2K/W}; Put a row of four drums along the back wall: store.rows[0]={name: back drums, drums: 4, at: 4.26 m, colour: black}" {
		t.Errorf("%s", got)
	}
	p, _ := h.Plan.Apply(acts[1].Changes...)
	if other, bad := house.Resolve(p); len(bad) > 0 || len(other.Rows) != 1 || !(other.Rows[0].X+other.Rows[0].Diameter/2 < 4.6) {
		t.Errorf("%v, %v", other, bad)
	}
	low := resolved(t, examples.LarchHollow, "store=none", "water=none", "shape.depth=0 m", "shape.back_height=0.4 m")
	if got := written(Teller{}.HouseActs(low)); strings.Contains(got, "drums") {
		t.Errorf("drums do not stand in %s", got)
	}
}

// A cover is seen in the section whatever its hours, on its side of every pane, with when it is drawn.
func TestCoverIsDrawn(t *testing.T) {
	for _, row := range []struct {
		cover string
		want  string
	}{
		{"{r_value: 0.7 m2K/W}", "night cover of 0.70 m² K/W, inside, drawn 16:30 to 08:30, 15 October to 15 April"},
		{"{r_value: R-4, hours: always, side: outside}", "night cover of 0.70 m² K/W, outside, drawn day and night, 15 October to 15 April"},
		{"{r_value: R-4, air_below: -5 degC, from: 2025-12-01, until: 2026-02-01}", "drawn when it is below -5.0 °C outdoors, 1 December 2025 to 1 February 2026"},
		{`{r_value: R-4, sun_below: 30 W/m2, hours: "15:00-09:00"}`, "drawn 15:00 to 09:00 when the sun is below 30 W/m²"},
	} {
		h := resolved(t, examples.LarchHollow, "cover="+row.cover)
		s := Teller{}.Section(h, nil)
		if s.Cover == nil || !strings.Contains(s.Cover.Name, row.want) || s.Cover.Outside != strings.Contains(row.cover, "outside") || len(s.Cover.Panes) != 1 {
			t.Errorf("%s: %+v", row.cover, s.Cover)
		}
		if _, err := drawing.DrawSection(s, drawing.Frame{}); err != nil {
			t.Error(err)
		}
	}
	if s := (Teller{}).Section(resolved(t, examples.LarchHollow), nil); s.Cover != nil {
		t.Error("a cover is drawn that is not there")
	}
	loft := Teller{}.Section(resolved(t, example(t, "crow-loft.yaml"), "cover={r_value: R-4}"), nil)
	if loft.Cover == nil || len(loft.Cover.Panes) != 2 {
		t.Errorf("windows are covered too: %+v", loft.Cover)
	}
	if len(loft.Windows) != 2 || loft.Windows[0].Depth < 0.2 || len(loft.Rays) == 0 {
		t.Errorf("windows and the sun through them: %+v, %+v", loft.Windows, loft.Rays)
	}
}
