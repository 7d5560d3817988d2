package web

import (
	"context"
	"strings"
	"testing"
	"time"

	"suncellar/examples"
	"suncellar/internal/worth"
)

// shortLoft is a light box on stilts over ten days of January.
func shortLoft() string {
	return strings.Replace(string(examples.All()[2].Plan), "span: whole year", "span: winter, from: 01-05, until: 01-15, warm_up_days: 3", 1)
}

// A value is computed when it is asked for, kept with its text, told in the reader's units, and not known of another text.
func TestWorth(t *testing.T) {
	s, _ := site(t, "")
	plan := shortLoft()
	ask1 := func(text, path, units string) WorthAnswer {
		t.Helper()
		status, _, told := ask(t, s, "POST", "/api/worth", WorthRequest{Name: "c.yaml", Text: text, Path: path, View: View{Units: units}})
		if status != 200 {
			t.Fatalf("%s: %d %.300s", path, status, told)
		}
		return decode[WorthAnswer](t, told)
	}
	if a := ask1(plan, "", "SI"); len(a.Rows) != 0 || a.Heard != "" {
		t.Errorf("something is known before it was asked: %+v", a)
	}
	wool := "builds.straw wall.layers[1].thickness"
	a := ask1(plan, wool, "SI")
	if len(a.Rows) != 1 || a.Rows[0].Path != wool || !strings.HasPrefix(a.Rows[0].Sentence, "1") || a.Rows[0].LowestK == nil || !(*a.Rows[0].LowestK > 0) || !strings.Contains(a.Heard, "this one winter") {
		t.Fatalf("%+v", a)
	}
	began := time.Now()
	us := ask1(plan, wool, "US")
	if took := time.Since(began); took > 100*time.Millisecond {
		t.Errorf("what is known takes %v", took)
	}
	if !strings.Contains(us.Rows[0].Sentence, "1 in more") && !strings.Contains(us.Rows[0].Sentence, "6 in more") || !strings.Contains(us.Rows[0].Sentence, "°F") {
		t.Errorf("%+v", us.Rows)
	}
	if a := ask1(plan, "site.place", "SI"); len(a.Rows) != 2 || a.Rows[1].Sentence != "" || a.Rows[1].LowestK != nil {
		t.Errorf("a value without more or less: %+v", a.Rows)
	}
	if a := ask1(plan+"# other\n", "", "SI"); len(a.Rows) != 0 || a.Revision == us.Revision {
		t.Errorf("another text knows %+v", a)
	}
	if status, _, _ := ask(t, s, "POST", "/api/worth", WorthRequest{Name: "c.yaml", Text: "suncellar: 1\n", Path: wool}); status != 422 {
		t.Errorf("a plan that is none: %d", status)
	}
}

// When the whole study was made its rows are known to all fields: what the study keeps under a text is told for that text.
func TestStudyIsKnownToFields(t *testing.T) {
	s, _ := site(t, "")
	p, _, _ := read("c.yaml", []byte(shortLoft()))
	a, err := worth.PerUnit(context.Background(), worth.UnitRequest{Plan: p, Only: []string{"builds.straw wall.layers[1].thickness", "leakage.air_changes"}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	h := s.Config.Handler.(*Server)
	h.keepWorth(shortLoft(), a)
	_, _, told := ask(t, s, "POST", "/api/worth", WorthRequest{Name: "c.yaml", Text: shortLoft()})
	known := decode[WorthAnswer](t, told)
	if len(known.Rows) != 2 || known.Rows[0].Sentence == "" || known.Rows[1].Sentence == "" {
		t.Errorf("%+v", known)
	}
}

// Who asks for another value goes away from the first, which stops it.
func TestWorthIsStopped(t *testing.T) {
	s, _ := site(t, "")
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Millisecond)
	defer cancel()
	h := s.Config.Handler.(*Server)
	if _, err := h.worthOf(ctx, &WorthRequest{Name: "l.yaml", Text: string(examples.LarchHollow), Path: "shape.depth"}); err == nil {
		t.Error("it went on")
	}
}
