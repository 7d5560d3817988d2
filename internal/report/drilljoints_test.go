package report

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"suncellar/internal/drill"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
)

// jointed is the table of Larch Hollow's joints, its water at 8 °C, and the repair of one.
func jointed(t *testing.T, joint string, changes ...string) (*drill.Table, *drill.Repair) {
	t.Helper()
	h, bad := house.Resolve(waterPlan(t, changes...))
	if err := plan.AsError(bad); err != nil {
		t.Fatal(err)
	}
	a, err := drill.Joints(h, func(int) float64 { return 8 }, nil)
	if err != nil {
		t.Fatal(err)
	}
	at, err := drill.FindJoint(h.Scheme, joint)
	if err != nil {
		t.Fatal(err)
	}
	r, err := drill.RepairOf(h, at, nil)
	if err != nil {
		t.Fatal(err)
	}
	return a, r
}

const (
	bays  = `store.rows[0].bays=2`
	drips = `water.drip_lines=[{name: line, bed: front bed}]`
)

// flat is a text without its breaks.
func flat(text string) string { return strings.Join(strings.Fields(text), " ") }

// lacks tells of what is missing in a text, and of lines that are too wide.
func lacks(t *testing.T, text string, wants ...string) {
	t.Helper()
	for _, want := range wants {
		if !strings.Contains(flat(text), want) {
			t.Errorf("%q is missing in\n%s", want, text)
		}
	}
	for _, l := range strings.Split(text, "\n") {
		if utf8.RuneCountInString(l) > Width {
			t.Errorf("too wide: %q", l)
		}
	}
}

func TestJointsAreTold(t *testing.T) {
	a, _ := jointed(t, "joint at back drums, drum 1", bays)
	lost := Teller{}.water(a.Joints[1].Now.M3)
	lacks(t, Teller{}.Joints(a), "Larch Hollow, the joints of its water pipes", "most water runs out by joint at back drums, drum 1 ("+lost, "; and as much by", "still lets out most: ", "from back drums, drums 1 to",
		"2 % a winter for a joint with a rigid coupling and 0.5 %", "heat drums all falling with", "At 1 joint beside these nothing runs out", "one more: ", "between joint at back drums, drum ",
		"kept shut through the frosts or shut before the water has run out", "own judgement", "water.joint_odds.rigid: 2 % (assumed: nobody counts them; own judgement)", "A failed wall of a drum is not counted", "Heat is that above 0 °C")
	lacks(t, Teller{System: unit.US}.Joints(a), Teller{System: unit.US}.water(a.Joints[1].Now.M3)+", ", " gal a winter, saves ")
	a.Warm = false
	if got := flat(Teller{}.Joints(a)); strings.Contains(got, "kWh") || strings.Contains(got, "Heat is") {
		t.Errorf("the water's temperature is not known:\n%s", got)
	}
	a, _ = jointed(t, "joint at back drums, drum 1", "store.rows[0].bays=1", "water.joint_odds={rigid: 0.01 %, flexible: 0 %}")
	lacks(t, Teller{}.Joints(a), "No valve parts the drums: none of it can be held.", "At 0.01 % a winter")
	if got := (Teller{}).Joints(a); strings.Contains(got, "Assumed") {
		t.Errorf("the plan says its odds:\n%s", got)
	}
	for i := range a.HeightsZ {
		a.HeightsZ[i] = -9
	}
	dry, err := drill.Joints(a.House, nil, a.HeightsZ)
	if err != nil {
		t.Fatal(err)
	}
	if got := (Teller{}).JointSentences(dry); len(got) != 1 || !strings.Contains(got[0], "No joint lets any water out") {
		t.Errorf("empty drums: %q", got)
	}
	lacks(t, Teller{}.Joints(dry), "saves nothing more")
}

// The odds stand with the joints, and not with what the water's own answer assumes.
func TestOddsStandWithTheJoints(t *testing.T) {
	if got := (Teller{}).Water(watered(t)); strings.Contains(got, "joint_odds") {
		t.Errorf("odds are told by the water, which has no use of them:\n%s", got)
	}
}

func TestRepairIsTold(t *testing.T) {
	last := "joint at back drums, drum 10"
	_, r := jointed(t, last, bays, drips)
	lacks(t, Teller{}.Repair(r), "To mend "+last, "1. Shut valve before back drums, bay 2: it holds back ", "The plan does not write this valve", "2. Use the tap first if it sits on this part", "by the drip line line, which is slow: ",
		"Open the joint a little, with a hose", "Meanwhile back drums, drums 1 to 5 keep their water", "no overflow takes what is too much", "No drip line runs.", "Never stand below stacked drums", "never by a flame", "Switch off at the board")
	_, r = jointed(t, "branch at back drums, drum 1", bays, drips)
	lacks(t, Teller{}.Repair(r), "Lead the rain away before the inlet", "No rain can be taken.", "Drip lines that still hang on water: line.")
	_, r = jointed(t, last, "store.rows[0].bays=1", `water.valves=[{name: stop, on: inlet}]`)
	lacks(t, Teller{}.Repair(r), "Shut stop.", "No open valve stands between this joint and the drums", "Let out by the tap: ", "Meanwhile no drum is in use.")
	_, r = jointed(t, "inlet at back drums, drum 1", drips, `water.valves=[{name: shut, on: line, state: shut}]`)
	lacks(t, Teller{}.Repair(r), "No water stands over the joint: nothing has to be let out.")
	r.Drains = []drill.Drain{{By: drill.ByDrip, Opens: true, Falls: []drill.Fall{{Vessel: 0, ToZ: -1, LostM3: 0.1}, {Vessel: 2, ToZ: -0.5, LostM3: 0.1}}, M3: 0.2}}
	lacks(t, Teller{}.Repair(r), "Open the drip line line and let out by it, which is slow: 200 L out of back drums, drum 1; back drums, drum 3, down to between 1.00 m below grade and 0.50 m below grade.")
	r.Service = drill.Service{Vessels: []int{0}, Fed: []int{0}, Inlet: true, Overflow: true}
	lacks(t, Teller{}.Repair(r), "Rain comes to back drums, drum 1, and the overflow takes what is too much.")
}

func TestDrumsTogether(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"", ""}, {"a, drum 1", "a, drum 1"}, {"a, drum 1|a, drum 2|a, drum 3", "a, drums 1 to 3"}, {"a, drum 1|a, drum 3|a, drum 4", "a, drum 1|a, drums 3 to 4"},
		{"a, drum 1|b, drum 2", "a, drum 1|b, drum 2"}, {"tee|tee", "tee|tee"}, {"a drum x|a drum y", "a drum x|a drum y"}, {"pipe at a, drum 1 (2)|a, drum 2", "pipe at a, drum 1 (2)|a, drum 2"},
	} {
		var in []string
		if c.in != "" {
			in = strings.Split(c.in, "|")
		}
		if got := strings.Join(together(in), "|"); got != c.want {
			t.Errorf("%q: %q, want %q", c.in, got, c.want)
		}
	}
}

// JSON holds the same in SI; the drains of a repair add up to what the joint loses with all valves shut.
func TestJointsJSON(t *testing.T) {
	a, r := jointed(t, "joint at back drums, drum 10", bays, drips)
	for _, c := range []struct {
		warm   bool
		repair *drill.Repair
	}{{true, r}, {false, nil}} {
		a.Warm = c.warm
		var b bytes.Buffer
		if err := JointsJSON(&b, a, c.repair); err != nil {
			t.Fatal(err)
		}
		var out jointsJSON
		if err := json.Unmarshal(b.Bytes(), &out); err != nil {
			t.Fatal(err)
		}
		if out.Schema.Name != "suncellar.joints" || len(out.Joints) != len(a.Joints) || len(out.Places) != 4 || len(out.Places[2].Between) != 2 || len(out.Levels) != len(a.Scheme.Vessels) || len(out.Assumed) != 2 || len(out.Cautions) == 0 {
			t.Errorf("%+v", out)
		}
		for _, j := range out.Joints {
			if (j.Now.HeatJ != nil) != c.warm {
				t.Errorf("%s: heat %v", j.Name, j.Now.HeatJ)
			}
		}
		if (out.Repair != nil) != (c.repair != nil) {
			t.Fatalf("repair %+v", out.Repair)
		}
		if out.Repair == nil {
			continue
		}
		drained := 0.0
		for _, d := range out.Repair.Drains {
			drained += d.M3
		}
		if want := a.At(r.At.Point).Shut.M3; math.Abs(drained-want) > 1e-9 || len(out.Repair.Steps) == 0 || len(out.Repair.Shut) != 1 || len(out.Repair.Part) != 5 || out.Repair.Drains[0].Drip != "line" {
			t.Errorf("%g m³ drained of %g: %+v", drained, want, out.Repair)
		}
	}
}
