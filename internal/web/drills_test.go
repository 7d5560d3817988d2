package web

import (
	"encoding/csv"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"suncellar/internal/plan"
)

// drillsOf is what can be tried in a text.
func drillsOf(t *testing.T, s *httptest.Server, text string) DrillsAnswer {
	t.Helper()
	status, _, answer := ask(t, s, "POST", "/api/drills", DrillsRequest{Name: "l.yaml", Text: text})
	if status != 200 {
		t.Fatalf("%d %s", status, answer)
	}
	return decode[DrillsAnswer](t, answer)
}

func fault(out DrillsAnswer, kind string) *DrillFault {
	for i := range out.Faults {
		if out.Faults[i].Kind == kind {
			return &out.Faults[i]
		}
	}
	return nil
}

// Only faults that the plan can have are told: a cover that is taken out cannot be left off, a flap that is put in can freeze, without water no drum of it can split.
func TestFaultsOfThePlan(t *testing.T) {
	s, _ := site(t, "")
	cover := plan.Change{Path: "cover", Value: "{r_value: 0.7 m2K/W}"}
	flap := plan.Change{Path: "water.inlet.mouth", Value: "flap"}
	with := drillsOf(t, s, piped(t, cover, flap))
	without := drillsOf(t, s, piped(t, plan.Change{Path: "cover", Value: "none"}, plan.Change{Path: "water", Value: "none"}))
	for _, kind := range []string{"cover", "flap", "drum"} {
		if fault(with, kind) == nil || fault(without, kind) != nil {
			t.Errorf("%s: with %+v, without %+v", kind, fault(with, kind), fault(without, kind))
		}
	}
	leak := fault(with, "leak")
	if !slices.Contains(leak.Where, "joint at back drums, drum 6") || !slices.Contains(leak.Where, "back drums, bay 2") || without.Joints != nil {
		t.Errorf("%v %+v", leak.Where, without.Joints)
	}
	if got := fault(without, "leak").Where; slices.ContainsFunc(got, func(n string) bool { return strings.Contains(n, "joint") }) {
		t.Errorf("joints of no pipes: %v", got)
	}
}

// The table of joints follows a valve that is turned, and knows the heat once the winter is kept. Its file has each joint in SI.
func TestJointsFollowValves(t *testing.T) {
	s, _ := site(t, "")
	text := piped(t, briefRun)
	open := drillsOf(t, s, text)
	shut := drillsOf(t, s, turned(t, s, text, waterOf(t, s, WaterRequest{Text: text}).Scheme.Valves[0].Turn))
	loss := func(a DrillsAnswer) string { return a.Joints.Tables[0].Rows[0][2] }
	if open.Joints.Warm || open.Joints.Tables[0].Rows[0][3] != "…" || loss(open) == loss(shut) {
		t.Errorf("%+v %+v", open.Joints.Tables[0].Rows, shut.Joints.Tables[0].Rows)
	}
	if len(open.Joints.Tables) != 2 || len(open.Joints.Tables[1].Rows) != 4 || len(open.Joints.Cautions) == 0 {
		t.Errorf("%+v", open.Joints.Tables)
	}
	rows, err := csv.NewReader(strings.NewReader(open.Joints.Tables[0].CSV)).ReadAll()
	if err != nil || len(rows) < 20 || rows[0][3] != "runs out, valves as they stand [m3]" {
		t.Errorf("%v %v", rows, err)
	}
	if status, _, answer := ask(t, s, "POST", "/api/winter", AnswerRequest{Name: "l.yaml", Text: text}); status != 200 {
		t.Fatal(answer)
	}
	if warm := drillsOf(t, s, text); !warm.Joints.Warm || warm.Joints.Tables[0].Rows[0][3] == "…" {
		t.Errorf("%+v", warm.Joints.Tables[0].Rows)
	}
}

// A leak at a joint tells what is lost, where it comes below its limit, what to do, and cautions; ridden out and mended beside it.
func TestLeakIsTried(t *testing.T) {
	inFull(t)
	s, _ := site(t, "")
	status, _, answer := ask(t, s, "POST", "/api/drills/try", DrillRequest{DrillsRequest: DrillsRequest{Name: "l.yaml", Text: piped(t, briefRun)}, Kind: "leak", At: "joint at back drums, drum 6", On: "01-05", Spare: "400 L"})
	if status != 200 {
		t.Fatalf("%d %s", status, answer)
	}
	out := decode[DrillAnswer](t, answer)
	if out.Title != "A leak at joint at back drums, drum 6" || len(out.Tables) != 2 || len(out.Steps) < 4 || len(out.Cautions) < 5 || !strings.Contains(out.Sentences[1], "of water run out") {
		t.Errorf("%+v", out)
	}
	for _, tab := range out.Tables {
		if rows, err := csv.NewReader(strings.NewReader(tab.CSV)).ReadAll(); err != nil || len(rows) != len(tab.Rows)+1 || len(tab.Heads) != 7 || len(tab.Rows[0]) != 7 || tab.File == "" {
			t.Errorf("%s: %v %v", tab.Title, rows, err)
		}
	}
	if !strings.Contains(strings.Join(out.Cautions, " "), "switch electricity off outside the house") {
		t.Errorf("%v", out.Cautions)
	}
}

// What cannot be tried is told with the field that it belongs to.
func TestDrillsRefuse(t *testing.T) {
	inFull(t)
	s, _ := site(t, "")
	text := piped(t, briefRun, plan.Change{Path: "cover", Value: "none"})
	type problem struct {
		Errors []struct{ Location, Message string }
	}
	for _, c := range []struct {
		in          DrillRequest
		field, word string
	}{
		{DrillRequest{Kind: "cover"}, "kind", "cannot have this fault"},
		{DrillRequest{Kind: "door", At: "gate"}, "at", `"gate"`},
		{DrillRequest{Kind: "leak", On: "monday"}, "on", "01-15"},
		{DrillRequest{Kind: "leak", On: "02-29"}, "on", "leap"},
		{DrillRequest{Kind: "leak", On: "07-01"}, "on", "no day of the winter"},
		{DrillRequest{Kind: "leak", Hole: "5 L"}, "hole", ""},
		{DrillRequest{Kind: "leak", Hole: "3 m"}, "hole", "200 mm"},
		{DrillRequest{Kind: "leak", Spare: "much"}, "spare", ""},
		{DrillRequest{Kind: "leak", Seen: "90 d"}, "seen", ""},
		{DrillRequest{Kind: "door", Lasts: "5 m"}, "lasts", ""},
		{DrillRequest{Kind: "pane", Pane: "99 m2"}, "pane", "is larger than"},
	} {
		c.in.Name, c.in.Text = "l.yaml", text
		status, _, answer := ask(t, s, "POST", "/api/drills/try", c.in)
		out := decode[problem](t, answer)
		if status != 422 || len(out.Errors) != 1 || out.Errors[0].Location != c.field || !strings.Contains(out.Errors[0].Message, c.word) {
			t.Errorf("%+v: %d %s", c.in.Kind, status, answer)
		}
	}
}

// Water taken once is told with what it costs each place; what cannot be taken with its field.
func TestWaterIsDrawn(t *testing.T) {
	inFull(t)
	s, _ := site(t, "")
	in := DrawRequest{Name: "l.yaml", Text: piped(t, briefRun), Volume: "300 L", On: "01-06", Bed: "front bed"}
	status, _, answer := ask(t, s, "POST", "/api/water/draw", in)
	if status != 200 {
		t.Fatalf("%d %s", status, answer)
	}
	out := decode[DrawAnswer](t, answer)
	if !strings.Contains(out.Sentences[0], "300 L of water taken on 6 January") || !strings.Contains(out.Sentences[0], "front bed") || len(out.Table.Rows) < 3 || len(out.Cautions) == 0 || out.Table.CSV == "" {
		t.Errorf("%+v", out)
	}
	for field, bad := range map[string]DrawRequest{"volume": {Volume: "lots"}, "on": {Volume: "10 L", On: "06-30"}, "bed": {Volume: "10 L", Bed: "rose bed"}} {
		bad.Name, bad.Text = in.Name, in.Text
		if status, _, answer := ask(t, s, "POST", "/api/water/draw", bad); status != 422 || !strings.Contains(answer, `"location":"`+field+`"`) {
			t.Errorf("%s: %d %s", field, status, answer)
		}
	}
}
