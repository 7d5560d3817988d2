package report

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// who is who decides whether a footing carries: it stands wherever one is told.
const who = "for local codes and a licensed engineer to decide"

// Footings are listed by a check with the caution that goes with them, which stands in a winter's answer and in JSON too; the picture has them; a plan without
// footings hears nothing of it.
func TestFootingsAreTold(t *testing.T) {
	flat := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	if told := flat((Teller{System: unit.SI}).Check(pitWith(t), nil)); strings.Contains(told, "Footings") || strings.Contains(told, who) {
		t.Errorf("a plan without footings tells of them:\n%s", told)
	}
	change := plan.Change{Path: "ground.footings", Origin: plan.Changed,
		Value: "[{under: front wall, material: concrete_dense, width: 50 cm, thickness: 25 cm}, {under: back wall, material: sandstone, width: 60 cm, thickness: 40 cm}]"}
	s := pitWith(t, change)
	told := flat((Teller{System: unit.SI}).Check(s, nil))
	for _, want := range []string{"under front wall: concrete dense, 50 cm wide, 25 cm thick, its underside 1.25 m below grade", "under back wall: sandstone", "the steady loss above is without them", who} {
		if !strings.Contains(told, want) {
			t.Errorf("the check does not hold %q:\n%s", want, told)
		}
	}
	var b bytes.Buffer
	if err := CheckJSON(&b, s.House.Plan, s, nil); err != nil || !strings.Contains(b.String(), `"underside_below_grade_m": 1.4`) || !strings.Contains(b.String(), who) {
		t.Errorf("footings as sent: %v\n%s", err, b.String())
	}
	if strips := (Teller{System: unit.SI}).Section(s.House, nil).Footings; len(strips) != 4 || !strings.Contains(strips[0].Name, "under front wall") { // each with an inner part under the floor
		t.Errorf("footings in the picture: %+v", strips)
	}
	p, findings := plan.Load("pit.yaml", []byte(strings.Replace(pit, "run: {", "snow: {list: []}\nrun: {", 1)), house.Known(), change)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	a, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	causesClose(t, a.Result)
	if told := flat((Teller{System: unit.SI}).Winter(a, OfHouse{})); !strings.Contains(told, who) {
		t.Errorf("the answer does not say who decides:\n%s", told)
	}
}
