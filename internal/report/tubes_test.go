package report

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// Two rows of invented tubes, a loop with a fan and an inlet, are told: where they lie, what they did, what to beware of; and the books
// of the house close with them in.
func TestTubesAreTold(t *testing.T) {
	text := pit + "snow: {list: []}\ntubes:\n" +
		"  - {name: loop, count: 4, diameter: 110 mm, length: 4.5 m, depth: 0.8 m, drain: no, inlet: {height: 0.1 m}, outlet: {height: 1.4 m}, fan: {flow: 200 m3/h, power: 20 W, below: 6 degC, above: 15 degC}}\n" +
		"  - {name: pipe, count: 1, diameter: 110 mm, length: 4.5 m, depth: 1.5 m, under: outside behind, inlet: {in: outdoors, height: 0.4 m}, outlet: {height: 0.2 m}}\n"
	p, findings := plan.Load("pit.yaml", []byte(text), house.Known())
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	a, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	causesClose(t, a.Result)
	for _, system := range []unit.System{unit.SI, unit.US} {
		told := strings.Join(strings.Fields((Teller{System: system}).Winter(a, OfHouse{})), " ")
		for _, want := range []string{"loop pipe air by night", "heat to the air, worst night, kWh", "radon", "A trench for tubes can fall in", "have no drain", "residual-current device, clear of standing water",
			"The tubes pipe have an end outdoors", "buried tubes"} {
			if !strings.Contains(told, want) {
				t.Errorf("%v: the text does not hold %q", system, want)
			}
		}
	}
	page := &page{}
	Teller{}.tubesLaid(page, a.House)
	for _, want := range []string{"loop: 4 tubes of 4.50 m, 18.00 m in all", "from 0.10 m above the floor to 1.40 m above the floor", "outdoors, 0.40 m above grade", "radon"} {
		if !strings.Contains(strings.Join(strings.Fields(page.String()), " "), want) {
			t.Errorf("where they lie does not hold %q:\n%s", want, page.String())
		}
	}
	var b bytes.Buffer
	if err := WinterJSON(&b, a, OfHouse{}); err != nil {
		t.Fatal(err)
	}
	var got winterJSON
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Tubes) != 2 || got.Tubes[0].Name != "loop" || got.Tubes[0].NightJ != a.Tubes[0].NightJ || got.Tubes[0].FanNightWh <= 0 || got.Tubes[1].NightM3S <= 0 {
		t.Errorf("tubes as sent: %+v", got.Tubes)
	}
	b.Reset()
	if err := Hours(&b, a); err != nil || !strings.Contains(b.String(), `"tubes loop, air from inlet to outlet [m3/s]"`) {
		t.Errorf("the hourly file has no flow of the loop: %v", err)
	}
}
