package web

import (
	"strings"
	"testing"

	"suncellar/examples"
)

// Choices are costed at once, computed with their bands, and each is told for itself: what is wrong with one keeps no other.
func TestChoices(t *testing.T) {
	s, _ := site(t, "")
	loft := small(string(examples.All()[2].Plan))
	list := []Choice{{"Tighter", "leakage.air_changes=0.1 ach"}, {"Wrong", "leakage.air_changes=3 apples"}}
	prices := "suncellar_prices: 1\ncurrency: marks\nprices: {leakage: 90 per change, plywod: 1 per m3}"
	in := ChoicesRequest{Name: "crow-loft.yaml", Text: loft, ChoicesOptions: ChoicesOptions{list, prices}}
	_, _, text := ask(t, s, "POST", "/api/choices", in)
	look := decode[ChoicesLook](t, text)
	if len(look.Rows) != 2 || look.Rows[0].Cost != "90 marks" || look.Rows[0].Changes[0].Path != "leakage.air_changes" || look.Rows[0].Changes[0].Value != "0.1 ach" {
		t.Errorf("looked at as %+v", look.Rows)
	}
	if !strings.Contains(look.Rows[1].Error, "leakage.air_changes") || look.Rows[1].Cost != "" {
		t.Errorf("the wrong one is %+v", look.Rows[1])
	}
	if p := look.Prices; len(p.Findings) != 1 || !p.Findings[0].Warning || p.Whole != "no price" || !strings.Contains(p.Blank, "straw_bale") || len(p.Lines) == 0 {
		t.Errorf("the prices are %+v", p)
	}
	_, _, text = ask(t, s, "POST", "/api/studies/choices", StudyRequest{Name: in.Name, Text: loft, Choices: in.ChoicesOptions})
	at := strings.LastIndex(text, "data: ")
	if at < 0 || !strings.Contains(text, "event: answer") {
		t.Fatalf("no answer: %.300s", text)
	}
	a := decode[StudyAnswer](t, text[at+len("data: "):])
	if a.Choices == nil || len(a.Choices.Rows) != 2 || len(a.Pictures) != 1 || len(a.Sentences) < 2 {
		t.Fatalf("answer %+v", a.Choices)
	}
	good, wrong := a.Choices.Rows[0], a.Choices.Rows[1]
	if good.Name != "Tighter" || good.NightK == nil || *good.NightK <= 0 || good.Band == "" || good.Cost != "90 marks" || good.PerK == nil || good.PerMoney == "" {
		t.Errorf("the tighter house is %+v", good)
	}
	if wrong.Error == "" || wrong.NightK != nil || strings.Contains(wrong.Error, "--set") {
		t.Errorf("the wrong one is %+v", wrong)
	}
}

// What is wrong with a list of prices is told with its line, and nothing costs anything by it.
func TestWrongPrices(t *testing.T) {
	s, _ := site(t, "")
	loft := small(string(examples.All()[2].Plan))
	in := ChoicesRequest{Name: "crow-loft.yaml", Text: loft, ChoicesOptions: ChoicesOptions{[]Choice{{"", "leakage.air_changes=0.1 ach"}}, "suncellar_prices: 1\nprices:\n  leakage: ninety per change"}}
	_, _, text := ask(t, s, "POST", "/api/choices", in)
	look := decode[ChoicesLook](t, text)
	if p := look.Prices; len(p.Findings) != 1 || p.Findings[0].Line != 3 || p.Whole != "" || look.Rows[0].Cost != "" || look.Rows[0].Error != "" {
		t.Errorf("told as %+v", look)
	}
	for _, c := range []struct {
		list []Choice
		want string
	}{{nil, "no choice to compute"}, {[]Choice{{"x", " ; "}}, "nothing is changed"}, {[]Choice{{"x", "depth"}}, "is not a change"}} {
		if _, _, text := ask(t, s, "POST", "/api/studies/choices", StudyRequest{Name: "c", Text: loft, Choices: ChoicesOptions{List: c.list}}); !strings.Contains(text, "event: failed") || !strings.Contains(text, c.want) {
			t.Errorf("%v: %.300s", c.list, text)
		}
	}
}

// What was changed by hand is told as a choice.
func TestDifferences(t *testing.T) {
	s, _ := site(t, "")
	before := string(examples.LarchHollow)
	after := strings.Replace(strings.Replace(before, "depth: 1.1 m", "depth: 1.4 m", 1), "drums: 20", "drums: 24", 1)
	_, _, text := ask(t, s, "POST", "/api/differences", DifferencesRequest{"larch-hollow.yaml", before, after})
	if d := decode[Differences](t, text); d.Changes != "shape.depth=1.4 m; store.rows[0].drums=24" || d.Count != 2 {
		t.Errorf("told as %+v", d)
	}
	if status, _, text := ask(t, s, "POST", "/api/differences", DifferencesRequest{"larch-hollow.yaml", before, "a: ["}); status != 422 || !strings.Contains(text, "not YAML") {
		t.Errorf("%d: %s", status, text)
	}
}

// What a thing is worth can be taken as a choice: its changes are read as typed, and move the same house.
func TestWorthIsAChoice(t *testing.T) {
	s, _ := site(t, "")
	loft := strings.Replace(small(string(examples.All()[2].Plan)), "until: 01-15", "until: 01-06", 1)
	_, _, text := ask(t, s, "POST", "/api/studies/worth", StudyRequest{Name: "crow-loft.yaml", Text: loft})
	at := strings.LastIndex(text, "data: ")
	if at < 0 || !strings.Contains(text, "event: answer") {
		t.Fatalf("no answer: %.300s", text)
	}
	a := decode[StudyAnswer](t, text[at+len("data: "):])
	if len(a.Worths) < 5 || len(a.Reads) == 0 || len(a.Sentences) < 2 {
		t.Fatalf("%d worths, %d ways to read, %d sentences", len(a.Worths), len(a.Reads), len(a.Sentences))
	}
	in := ChoicesRequest{Name: "crow-loft.yaml", Text: loft}
	for _, r := range a.Worths[:min(24, len(a.Worths))] {
		in.List = append(in.List, Choice{r.Name, r.Changes})
	}
	_, _, text = ask(t, s, "POST", "/api/choices", in)
	for i, row := range decode[ChoicesLook](t, text).Rows {
		if len(row.Changes) == 0 || row.Error != "" {
			t.Errorf("%s (%s) is no choice: %s", in.List[i].Name, in.List[i].Changes, row.Error)
		}
	}
}
