package web

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"suncellar/examples"
	"suncellar/internal/folder"
)

// small is a light box on stilts, without soil, over ten days of January: a winter of a tenth of a second.
var small = strings.NewReplacer("span: whole year", "from: 01-05, until: 01-15").Replace

// site is a server on a folder of its own, and the folder.
func site(t *testing.T, token string) (*httptest.Server, string) {
	t.Helper()
	dir := t.TempDir()
	for _, e := range examples.All() {
		if err := os.WriteFile(filepath.Join(dir, e.Name), e.Plan, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	plans, err := folder.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	page := fstest.MapFS{"index.html": {Data: []byte("<!doctype html><title>page</title>" + strings.Repeat("<p>text</p>", 50))}, "assets/a-1.js": {Data: []byte("let a")}}
	s := httptest.NewServer(New(Options{Plans: plans, Page: page, Hosts: []string{"127.0.0.1"}, Token: token}))
	t.Cleanup(func() { s.Close(); plans.Close() })
	return s, dir
}

// ask sends a request and reads the answer; set changes it before it goes.
func ask(t *testing.T, s *httptest.Server, method, path string, body any, set ...func(*http.Request)) (int, http.Header, string) {
	t.Helper()
	var b io.Reader
	if body != nil {
		text, err := json.Marshal(body)
		if err != nil {
			t.Fatal(err)
		}
		b = bytes.NewReader(text)
	}
	r, err := http.NewRequest(method, s.URL+path, b)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	for _, f := range set {
		f(r)
	}
	client := *s.Client()
	client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	a, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	text, err := io.ReadAll(a.Body)
	if err != nil {
		t.Fatal(err)
	}
	return a.StatusCode, a.Header, string(text)
}

func decode[T any](t *testing.T, text string) T {
	t.Helper()
	var v T
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("%v: %.300s", err, text)
	}
	return v
}

// A plan is read, changed and kept; kept from an old revision it is told, with what lies on the disk.
func TestPlans(t *testing.T) {
	s, dir := site(t, "")
	_, _, text := ask(t, s, "GET", "/api/plans", nil)
	if list := decode[PlanList](t, text); len(list.Plans) != 3 || list.Plans[0].Name != "crow-loft.yaml" {
		t.Fatalf("plans are %+v", list)
	}
	_, _, text = ask(t, s, "GET", "/api/plans/larch-hollow.yaml", nil)
	was := decode[PlanText](t, text)
	if was.Text != string(examples.LarchHollow) {
		t.Fatal("the text is not that of the file")
	}
	changed := "# mine\n" + was.Text
	status, _, text := ask(t, s, "PUT", "/api/plans/larch-hollow.yaml", PlanWrite{changed, was.Revision})
	now := decode[PlanText](t, text)
	if disk, _ := os.ReadFile(filepath.Join(dir, "larch-hollow.yaml")); status != 200 || string(disk) != changed || now.Revision == was.Revision {
		t.Errorf("status %d, revision %s after %s, disk begins %.10q", status, now.Revision, was.Revision, disk)
	}
	status, _, text = ask(t, s, "PUT", "/api/plans/larch-hollow.yaml", PlanWrite{"other", was.Revision})
	if c := decode[Conflict](t, text); status != 409 || c.Disk == nil || c.Disk.Text != changed || c.Disk.Revision != now.Revision {
		t.Errorf("a text from an old revision: %d %.200s", status, text)
	}
	if status, _, _ = ask(t, s, "GET", "/api/plans/none.yaml", nil); status != 404 {
		t.Errorf("a plan that is not there: %d", status)
	}
}

// Who looks at a plan sees its values, what is wrong with them and where, and the section; half a plan is no failure.
func TestLook(t *testing.T) {
	s, _ := site(t, "")
	plan := string(examples.LarchHollow)
	status, _, text := ask(t, s, "POST", "/api/look", LookRequest{Name: "larch-hollow.yaml", Text: plan})
	l := decode[Look](t, text)
	if status != 200 || !l.Good || l.Section == nil || !strings.HasPrefix(l.Section.SVG, "<svg") || len(l.Fields) < 50 {
		t.Fatalf("status %d, good %v, %d fields", status, l.Good, len(l.Fields))
	}
	for _, f := range l.Fields {
		switch f.Path {
		case "shape.depth":
			if f.Text != "1.1 m" || f.SI == nil || *f.SI != 1.1 || f.Allowed == "" || f.Origin != "given" || f.Line == 0 {
				t.Errorf("depth is %+v", f)
			}
		case "site.ground_cover":
			if f.Origin != "assumed" || f.Source == "" || len(f.Words) != 3 {
				t.Errorf("ground cover is %+v", f)
			}
		}
	}
	_, _, text = ask(t, s, "POST", "/api/look", LookRequest{Name: "larch-hollow.yaml", Text: strings.Replace(plan, "depth: 1.1 m", "depth: 11 m", 1)})
	if l = decode[Look](t, text); l.Good || l.Section != nil || len(l.Findings) == 0 || l.Findings[0].Path != "shape.depth" || l.Findings[0].Line == 0 {
		t.Errorf("eleven metres deep: %+v", l.Findings)
	}
	if at := slices.IndexFunc(l.Fields, func(f Field) bool { return f.Path == "shape.depth" }); at < 0 || l.Fields[at].Text != "11 m" || !strings.HasPrefix(l.Fields[at-1].Path, "shape.") {
		t.Errorf("the value that is wrong has no field in its part: %d", at)
	}
	for _, half := range []string{"", ":", "suncellar: 1\nsite: {", "\x00"} {
		if status, _, text = ask(t, s, "POST", "/api/look", LookRequest{Name: "half.yaml", Text: half}); status != 200 || decode[Look](t, text).Good {
			t.Errorf("%q: %d %.200s", half, status, text)
		}
	}
}

// A winter is told as at a prompt, with the pictures asked for; a plan that is wrong has its findings by path.
func TestWinter(t *testing.T) {
	s, _ := site(t, "")
	loft := small(string(examples.All()[2].Plan))
	status, _, text := ask(t, s, "POST", "/api/winter", AnswerRequest{Name: "crow-loft.yaml", Text: loft, Pictures: []string{"section.svg", "winter-sheet.svg"}, View: View{Width: 400}})
	if status != 200 {
		t.Fatalf("%d %.300s", status, text)
	}
	a := decode[WinterAnswer](t, text)
	if a.Sentence == "" || len(a.Places) == 0 || len(a.Pictures) != 2 || len(a.Cautions) == 0 || !strings.Contains(a.Text, a.Places[0].Name) || a.Revision != string(folder.RevisionOf([]byte(loft))) {
		t.Errorf("sentence %q, %d places, %d pictures, %d cautions", a.Sentence, len(a.Places), len(a.Pictures), len(a.Cautions))
	}
	status, _, text = ask(t, s, "POST", "/api/winter", AnswerRequest{Name: "crow-loft.yaml", Text: strings.Replace(loft, "length: 5.5 m", "length: 5.6 m", 1), Brief: true})
	if b := decode[WinterAnswer](t, text); status != 200 || b.Note == "" || a.Note != "" || !b.From.Equal(a.From) || len(b.Places) != len(a.Places) {
		t.Errorf("while it is dragged: %d, note %q, at rest %q, from %v for %v, %d places", status, b.Note, a.Note, b.From, a.From, len(b.Places))
	}
	status, _, text = ask(t, s, "POST", "/api/winter", AnswerRequest{Name: "x.yaml", Text: strings.Replace(string(examples.LarchHollow), "depth: 1.1 m", "depth: 11 m", 1)})
	if status != 422 || !strings.Contains(text, `"location":"shape.depth"`) {
		t.Errorf("a plan that is wrong: %d %s", status, text)
	}
}

// The page comes packed, is asked for again by its tag, and an address of the page is the page.
func TestPage(t *testing.T) {
	s, _ := site(t, "")
	_, h, text := ask(t, s, "GET", "/winter", nil, func(r *http.Request) { r.Header.Set("Accept-Encoding", "gzip") })
	if h.Get("Content-Encoding") != "gzip" || len(text) > 400 || !strings.Contains(h.Get("Content-Security-Policy"), "script-src 'self'") {
		t.Errorf("head %v, %d bytes", h, len(text))
	}
	if status, _, _ := ask(t, s, "GET", "/", nil, func(r *http.Request) { r.Header.Set("If-None-Match", h.Get("ETag")) }); status != 304 {
		t.Errorf("the same page again: %d", status)
	}
	if status, h, _ := ask(t, s, "GET", "/assets/a-1.js", nil); status != 200 || !strings.Contains(h.Get("Cache-Control"), "immutable") {
		t.Errorf("an asset: %d %v", status, h)
	}
	for _, path := range []string{"/assets/none.js", "/api/none", "/..%2F..%2Fetc/passwd.txt"} {
		if status, _, _ := ask(t, s, "GET", path, nil); status != 404 {
			t.Errorf("%s: %d", path, status)
		}
	}
}

// A grip is taken hold of and moved: the text has the new value in its own unit, and the grip lies as much further in the new picture.
func TestDrag(t *testing.T) {
	s, _ := site(t, "")
	_, _, text := ask(t, s, "POST", "/api/look", LookRequest{Name: "larch-hollow.yaml", Text: string(examples.LarchHollow)})
	l := decode[Look](t, text)
	moved := 0
	names := map[string]bool{}
	for _, g := range l.Section.Grips {
		if names[g.Name] {
			t.Errorf("two grips are called %q", g.Name)
		}
		names[g.Name] = true
		for way := range g.Ways {
			status, _, text := ask(t, s, "POST", "/api/look", LookRequest{Name: "larch-hollow.yaml", Text: string(examples.LarchHollow), Drags: []Drag{{g.Name, way, 0.05}}})
			if status != 200 {
				t.Errorf("%s: %d %.200s", g.Name, status, text)
				continue
			}
			if after := decode[Look](t, text); after.Text != string(examples.LarchHollow) {
				moved++
			}
		}
	}
	if moved < 15 {
		t.Errorf("%d of %d grips move anything", moved, len(l.Section.Grips))
	}
	if status, _, _ := ask(t, s, "POST", "/api/look", LookRequest{Name: "x.yaml", Text: string(examples.LarchHollow), Drags: []Drag{{"no such thing", 0, 1}}}); status != 422 {
		t.Errorf("a grip that is not there: %d", status)
	}
}

// What a grip offers is done to the plan as it stands, once for each time it is asked, and a label that is not there is refused.
func TestActs(t *testing.T) {
	s, _ := site(t, "")
	plan := string(examples.LarchHollow)
	for _, want := range []string{"drums: 21", "drums: 22"} {
		status, _, text := ask(t, s, "POST", "/api/look", LookRequest{Name: "l.yaml", Text: plan, Acts: []Done{{"back drums", "Add a drum to this row"}}})
		after := decode[Look](t, text)
		if status != 200 || !strings.Contains(after.Text, want) || len(after.Text) != len(plan) {
			t.Fatalf("%d, want %s in %.2000s", status, want, text)
		}
		plan = after.Text
	}
	_, _, text := ask(t, s, "POST", "/api/look", LookRequest{Name: "l.yaml", Text: plan, Acts: []Done{{"", "Put a night cover on the glazing"}}})
	covered := decode[Look](t, text)
	if !strings.Contains(covered.Text, "\ncover: {r_value: 0.7 m2K/W}\n") || !strings.Contains(covered.Section.SVG, "night cover of 0.70") {
		t.Errorf("%.500s", covered.Text)
	}
	for _, g := range covered.Section.Grips {
		for _, a := range g.Acts {
			if status, _, text := ask(t, s, "POST", "/api/look", LookRequest{Name: "l.yaml", Text: covered.Text, Acts: []Done{{g.Name, a.Label}}}); status != 200 || !decode[Look](t, text).Good {
				t.Errorf("%s, %s: %d %.300s", g.Name, a.Label, status, text)
			}
		}
	}
	for _, wrong := range []Done{{"back drums", "Fill it"}, {"no such thing", "Add a drum to this row"}, {"", ""}} {
		if status, _, _ := ask(t, s, "POST", "/api/look", LookRequest{Name: "l.yaml", Text: plan, Acts: []Done{wrong}}); status != 422 {
			t.Errorf("%v: %d", wrong, status)
		}
	}
}

// What is hidden is not in the section; snow lies there as deep as it is said to have lain.
func TestHide(t *testing.T) {
	s, _ := site(t, "")
	in := LookRequest{Name: "l.yaml", Text: string(examples.LarchHollow), Snow: Snow{0.2, 0.4}}
	for what, mark := range map[string]string{"winter sun": "21 December", "summer sun": "21 June", "snow": "snow on the ground, 40 cm, deepest", "measures": "4.60 m"} {
		in.Hide = nil
		_, _, text := ask(t, s, "POST", "/api/look", in)
		in.Hide = []string{what}
		_, _, without := ask(t, s, "POST", "/api/look", in)
		if !strings.Contains(decode[Look](t, text).Section.SVG, mark) || strings.Contains(decode[Look](t, without).Section.SVG, mark) {
			t.Errorf("%s: %q is not shown, or not hidden", what, mark)
		}
	}
}

// The band tells what is not known of a house, thing by thing; a house of which all is known has none and says so.
func TestBand(t *testing.T) {
	s, _ := site(t, "")
	loft := small(string(examples.All()[2].Plan))
	status, _, text := ask(t, s, "POST", "/api/band", AnswerRequest{Name: "crow-loft.yaml", Text: loft})
	b := decode[BandAnswer](t, text)
	if status != 200 || b.Surely == "" || b.LowC == nil && len(b.Things) > 0 || b.LowC != nil && !(*b.LowC <= *b.HighC) {
		t.Errorf("%d %.400s", status, text)
	}
	status, _, text = ask(t, s, "POST", "/api/band", AnswerRequest{Name: "crow-loft.yaml", Text: loft + "unknown: {leakage: off, dirt: off, ageing: off, drum_factor: off, inside_factor: off, snowfall: off}\n"})
	if b = decode[BandAnswer](t, text); status != 200 || b.LowC != nil || b.Surely == "" {
		t.Errorf("all is known: %d %.400s", status, text)
	}
}

// A study tells how far it is, then what it came to; what is typed wrong is told, and a plan that is wrong too.
func TestStudies(t *testing.T) {
	s, _ := site(t, "")
	loft := small(string(examples.All()[2].Plan))
	status, h, text := ask(t, s, "POST", "/api/studies/carry", StudyRequest{Name: "crow-loft.yaml", Text: loft, Carry: CarryOptions{Outside: "-5 degC"}})
	if status != 200 || !strings.HasPrefix(h.Get("Content-Type"), "text/event-stream") || !strings.Contains(text, "event: answer") || !strings.Contains(text, `\u003csvg`) {
		t.Errorf("%d %v %.300s", status, h, text)
	}
	for _, c := range []struct {
		in   StudyRequest
		want string
	}{
		{StudyRequest{Name: "x.yaml", Text: loft, Carry: CarryOptions{Outside: "5 apples", Gone: "120 %"}}, "outside: "},
		{StudyRequest{Name: "x.yaml", Text: loft, Carry: CarryOptions{BayLost: "no such bay"}}, "no such bay"},
		{StudyRequest{Name: "x.yaml", Text: strings.Replace(string(examples.LarchHollow), "depth: 1.1 m", "depth: 11 m", 1)}, "shape.depth"},
	} {
		if _, _, text := ask(t, s, "POST", "/api/studies/carry", c.in); !strings.Contains(text, "event: failed") || !strings.Contains(text, c.want) {
			t.Errorf("want a failure that tells %q, got %.300s", c.want, text)
		}
	}
}

// While a house is dragged, the lowests of its places are those of its whole winter within 0.25 K.
func TestWinterWhileDragged(t *testing.T) {
	t.Parallel()
	s, _ := site(t, "")
	text := string(examples.LarchHollow) + "run: {from: 10-01, until: 12-31}\n"
	winterOf := func(text string, brief bool) WinterAnswer {
		status, _, body := ask(t, s, "POST", "/api/winter", AnswerRequest{Name: "x.yaml", Text: text, Brief: brief})
		if status != 200 {
			t.Fatalf("%d %.300s", status, body)
		}
		return decode[WinterAnswer](t, body)
	}
	winterOf(text, false)
	moved := strings.Replace(text, "back_height: 1.3 m", "back_height: 1.55 m", 1)
	quick, whole := winterOf(moved, true), winterOf(moved, false)
	if moved == text || quick.Note == "" || whole.Note != "" || len(quick.Places) != len(whole.Places) {
		t.Fatalf("notes %q and %q", quick.Note, whole.Note)
	}
	for i, p := range whole.Places {
		if d := quick.Places[i].LowestC - p.LowestC; d < -0.25 || d > 0.25 {
			t.Errorf("%s: %.2f °C while it is dragged, %.2f at rest", p.Name, quick.Places[i].LowestC, p.LowestC)
		}
	}
}
