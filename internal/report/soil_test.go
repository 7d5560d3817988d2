package report

import (
	"bytes"
	"strings"
	"testing"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/quantities"
	"suncellar/internal/unit"
)

// pitWith is the pit with changes, resolved and reckoned up.
func pitWith(t *testing.T, changes ...plan.Change) *quantities.Sheet {
	t.Helper()
	p, findings := plan.Load("pit.yaml", []byte(pit), house.Known(), changes...)
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	h, bad := house.Resolve(p)
	if err := plan.AsError(bad); err != nil {
		t.Fatal(err)
	}
	s, err := quantities.Of(h)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A check lists the layers of soil with what is assumed of them, in text and JSON; a plan without them has no such part; the picture has their edges.
func TestSoilLayersAreTold(t *testing.T) {
	if told := (Teller{System: unit.SI}).Check(pitWith(t), nil); strings.Contains(told, "Soil, from grade down") || strings.Contains(told, "in layers") {
		t.Errorf("a plan without layers tells of them:\n%s", told)
	}
	s := pitWith(t, plan.Change{Path: "site.soil_layers", Value: "[{to: 40 cm, moisture: 60 %}, {to: 1.2 m, texture: sand}]", Origin: plan.Changed})
	told := strings.Join(strings.Fields((Teller{System: unit.SI}).Check(s, nil)), " ")
	for _, want := range []string{"Soil, from grade down", "grade to 40 cm: loam, 60 % of its pores full of water; conducts ", "40 cm to 120 cm: sand, 50 % of its pores", "below 120 cm: ",
		"ISO 13370, soil in layers, mean", "site.soil_layers[0].texture: loam; own judgement", "site.soil_layers[1].moisture: 50 %"} {
		if !strings.Contains(told, want) {
			t.Errorf("the check does not hold %q:\n%s", want, told)
		}
	}
	var b bytes.Buffer
	if err := CheckJSON(&b, s.House.Plan, s, nil); err != nil || strings.Count(b.String(), `"conductivity_frozen_w_mk"`) != 3 {
		t.Errorf("layers as sent: %v\n%s", err, b.String())
	}
	if seams := (Teller{System: unit.SI}).Section(s.House, nil).Seams; len(seams) != 2 || seams[1].Z != -1.2 || !strings.Contains(seams[1].Name, "sand") {
		t.Errorf("edges in the picture: %+v", seams)
	}
}
