package web

import (
	"net/http/httptest"
	"strings"
	"testing"

	"suncellar/examples"
	"suncellar/internal/plan"
)

// piped is Larch Hollow, which has water of its own, with changes.
func piped(t *testing.T, changes ...plan.Change) string {
	t.Helper()
	text, err := plan.Edit("l.yaml", examples.LarchHollow, changes...)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// briefRun is a winter of days.
var briefRun = plan.Change{Path: "run", Value: "{span: winter, from: 01-05, until: 01-08, warm_up_days: 2}"}

func waterOf(t *testing.T, s *httptest.Server, in WaterRequest) WaterAnswer {
	t.Helper()
	in.Name = "l.yaml"
	status, _, text := ask(t, s, "POST", "/api/water", in)
	if status != 200 {
		t.Fatalf("%d %s", status, text)
	}
	return decode[WaterAnswer](t, text)
}

// turned is the text with the changes made, as the page asks for them.
func turned(t *testing.T, s *httptest.Server, text string, changes []Change) string {
	t.Helper()
	status, _, answer := ask(t, s, "POST", "/api/look", LookRequest{Name: "l.yaml", Text: text, Changes: changes})
	out := decode[Look](t, answer)
	if status != 200 || !out.Good {
		t.Fatalf("%v: %d %s", changes, status, answer[:min(len(answer), 400)])
	}
	return out.Text
}

// A valve that the plan does not write is shut by writing it, then opened by its state; the scheme, its findings and numbers follow.
func TestValvesAreTurned(t *testing.T) {
	s, _ := site(t, "")
	text := piped(t)
	open := waterOf(t, s, WaterRequest{Text: text, View: View{Width: 360}})
	if len(open.Scheme.Valves) != 1 || open.Scheme.Valves[0].Shut || !open.Scheme.Valves[0].Shown || open.Scheme.Valves[0].X <= 0 || len(open.Scheme.Joints) == 0 {
		t.Fatalf("%+v", open.Scheme.Valves)
	}
	shutText := turned(t, s, text, open.Scheme.Valves[0].Turn)
	shut := waterOf(t, s, WaterRequest{Text: shutText})
	if !shut.Scheme.Valves[0].Shut || len(shut.Findings) <= len(open.Findings) || !strings.Contains(shutText, "on: 'back drums, bay 2'") {
		t.Errorf("%+v %+v", shut.Scheme.Valves, shut.Findings)
	}
	amount := func(a WaterAnswer) string {
		for _, n := range a.Numbers {
			if n.Name == "In the drums when full" {
				return n.Told
			}
		}
		return ""
	}
	if amount(open) == "" || amount(open) == amount(shut) {
		t.Errorf("full drums hold %q with a bay shut off, %q before", amount(shut), amount(open))
	}
	again := waterOf(t, s, WaterRequest{Text: turned(t, s, shutText, shut.Scheme.Valves[0].Turn)})
	if again.Scheme.Valves[0].Shut || amount(again) != amount(open) {
		t.Errorf("opened again: %+v, %q", again.Scheme.Valves, amount(again))
	}
}

// A plan without water is given the usual scheme by the changes that are offered; one without drums is told what is missing.
func TestWaterBegins(t *testing.T) {
	s, _ := site(t, "")
	bare := piped(t, plan.Change{Path: "water", Value: "none"})
	out := waterOf(t, s, WaterRequest{Text: bare})
	if !out.Missing || len(out.Begin) != 1 || out.Scheme != nil {
		t.Fatalf("%+v", out)
	}
	begun := waterOf(t, s, WaterRequest{Text: turned(t, s, bare, out.Begin)})
	if begun.Missing || begun.Scheme == nil || !strings.Contains(begun.Scheme.SVG, "back roof") {
		t.Errorf("%+v", begun)
	}
	if out := waterOf(t, s, WaterRequest{Text: piped(t, plan.Change{Path: "water", Value: "none"}, plan.Change{Path: "store", Value: "none"})}); !out.Missing || len(out.Begin) != 0 || !strings.Contains(out.Why, "no drums") {
		t.Errorf("%+v", out)
	}
}

// The years tell months and the number of drums, with the picture; a rain that is none is refused.
func TestWaterYears(t *testing.T) {
	inFull(t)
	s, _ := site(t, "")
	text := piped(t, briefRun)
	status, _, answer := ask(t, s, "POST", "/api/water/years", WaterRequest{Name: "l.yaml", Text: text})
	if status != 200 {
		t.Fatalf("%d %s", status, answer)
	}
	out := decode[WaterYears](t, answer)
	if len(out.Tables) != 2 || len(out.Tables[0].Rows) != 12 || len(out.Pictures) != 1 || out.Tables[0].Rows[0][len(out.Tables[0].Heads)-1] != "3000 L" || out.Tables[0].Rows[5][len(out.Tables[0].Heads)-1] != "" {
		t.Errorf("%+v", out.Tables)
	}
	if !strings.Contains(out.Text, "How many drums") || !strings.Contains(out.Sentence, "30 years made") {
		t.Errorf("%s", out.Sentence)
	}
	if got := strings.Join(out.Ledger, "\n"); !strings.Contains(got, "with neither rain nor use") || !strings.Contains(got, "All from one winter") {
		t.Errorf("what rain and use cost: %s", got)
	}
	if head, _, _ := strings.Cut(out.Tables[0].CSV, "\n"); out.Tables[0].File != "water-months.csv" || !strings.HasPrefix(head, "month,caught [m3]") || strings.Count(out.Tables[0].CSV, "\n") != 13 {
		t.Errorf("%s", out.Tables[0].CSV)
	}
	for _, rain := range []string{"heavy", "2 m", "9000 mm/h"} {
		if status, _, text := ask(t, s, "POST", "/api/water", WaterRequest{Name: "l.yaml", Text: text, Rain: rain}); status != 422 || !strings.Contains(text, "25 mm/h") {
			t.Errorf("%s: %d %s", rain, status, text)
		}
	}
	if status, _, _ := ask(t, s, "POST", "/api/water/years", WaterRequest{Name: "l.yaml", Text: piped(t, plan.Change{Path: "water", Value: "none"})}); status != 422 {
		t.Errorf("a plan without water: %d", status)
	}
}

// inFull passes a test over that runs winters one after another, in short runs: what runs side by side there is looked at by TestStudies too.
func inFull(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("some winters of work")
	}
}
