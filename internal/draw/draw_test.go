package draw

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// sample holds one of everything.
func sample() *List {
	clip := Rect{Point{0, 0}, Point{5, 5}}
	l := &List{Name: "sample", Title: `a < b & "c"`, Desc: "one of everything", Sheet: Rect{Point{-1, -1}, Point{9, 7}}, Scale: 40, Up: true}
	l.Add(
		&Group{Class: "layer", Tip: "a layer", Clip: &clip, Items: []Item{
			&Line{Points: []Point{{0, 0}, {3, 0}, {3, 2}, {4, 3}}, Pen: Pen{Ink: Ink, Width: 2, Dash: []float64{4, 2}}, Tip: "3.4 °C"},
			&Area{Rings: [][]Point{{{0, 0}, {2, 0}, {2, 2}, {0, 2}}, {{0.5, 0.5}, {1, 0.5}, {1, 1}}}, Fill: Cold2, Hatch: FrostHatch, HatchInk: OnDark, Tip: "ring"},
		}},
		&Area{Rings: [][]Point{{{0, 0}, {2, 0}, {2, 2}}}, Tip: "unseen but answers"},
		&Circle{Center: Point{4, 4}, Radius: 0.3, Fill: Warm3, Pen: Pen{Ink: Ink}},
		&Text{At: Point{1, 1}, Text: "−3.4 °C <&>\x00\"'", Size: 12.8, Anchor: Middle, Lift: Center, Turn: 90, Bold: true, Ink: Leaf, Halo: Ground},
		&Dimension{A: Point{0, 0}, B: Point{4, 0}, Offset: -20, Text: "4.00 m"},
	)
	return l
}

func write(t *testing.T, l *List, o SVGOptions) string {
	t.Helper()
	var b bytes.Buffer
	if err := SVG(&b, l, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestSVGIsValidXML(t *testing.T) {
	d := xml.NewDecoder(strings.NewReader(write(t, sample(), SVGOptions{})))
	titles := 0
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := tok.(xml.StartElement); ok && e.Name.Local == "title" {
			titles++
		}
	}
	if titles != 5 {
		t.Errorf("%d titles, want 5: one of the picture and four tips", titles)
	}
}

func TestSVGKeepsAnyTextWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		l := &List{Name: "x", Title: text, Sheet: Rect{Max: Point{9, 9}}, Items: []Item{&Text{Text: text, Size: 16, Tip: text}}}
		var b bytes.Buffer
		if err := SVG(&b, l, SVGOptions{}); err != nil {
			t.Fatal(err)
		}
		if err := xml.Unmarshal(b.Bytes(), new(struct{})); err != nil {
			t.Fatalf("text %q: %v", text, err)
		}
	})
}

func TestSVGIsTheSameEveryTime(t *testing.T) {
	first := write(t, sample(), SVGOptions{})
	for range 20 {
		if write(t, sample(), SVGOptions{}) != first {
			t.Fatal("the same list gave other bytes")
		}
	}
}

func TestSVGIsSelfContained(t *testing.T) {
	svg := write(t, sample(), SVGOptions{ID: "north"})
	for _, m := range regexp.MustCompile(`url\(#([^)]*)\)`).FindAllStringSubmatch(svg, -1) {
		if strings.Count(svg, `id="`+m[1]+`"`) != 1 {
			t.Errorf("id %s is defined %d times, want once", m[1], strings.Count(svg, `id="`+m[1]+`"`))
		}
	}
	for _, m := range regexp.MustCompile(`id="([^"]*)"`).FindAllStringSubmatch(svg, -1) {
		if !strings.HasPrefix(m[1], "north-") {
			t.Errorf("id %s has not the prefix that was asked for", m[1])
		}
	}
	rest := strings.Replace(svg, "http://www.w3.org/2000/svg", "", 1)
	for _, bad := range []string{"http", "@import", "<script", "href"} {
		if strings.Contains(rest, bad) {
			t.Errorf("the file contains %q", bad)
		}
	}
	for _, m := range regexp.MustCompile(`class="([^"]*)"`).FindAllStringSubmatch(svg, -1) {
		for _, cls := range strings.Fields(m[1]) {
			if (strings.HasPrefix(cls, "f-") || strings.HasPrefix(cls, "s-")) && !strings.Contains(svg, "."+cls+"{") {
				t.Errorf("class %s is used and not defined", cls)
			}
		}
	}
}

func TestEveryTokenIsDefinedInEveryTheme(t *testing.T) {
	svg := write(t, sample(), SVGOptions{})
	_, rest, _ := strings.Cut(svg, ".sc-picture{")
	light, rest, _ := strings.Cut(rest, "}")
	_, rest, _ = strings.Cut(rest, "@media screen and (prefers-color-scheme:dark){.sc-picture{")
	dark, rest, _ := strings.Cut(rest, "}")
	_, rest, _ = strings.Cut(rest, "@media print{.sc-picture{")
	paper, _, _ := strings.Cut(rest, "}")
	for _, tok := range Tokens() {
		for _, p := range []struct {
			name, css string
			theme     Theme
		}{{"light", light, Light}, {"dark", dark, Dark}, {"print", paper, Light}} {
			if want := "--sc-" + tok.String() + ":" + Color(tok, p.theme).String() + ";"; !strings.Contains(p.css, want) {
				t.Errorf("%s theme has not %s", p.name, want)
			}
		}
	}
	for _, o := range []SVGOptions{{Theme: Light}, {Theme: Dark}} {
		if strings.Contains(write(t, sample(), o), "prefers-color-scheme") {
			t.Errorf("theme %d is fixed and still follows the reader", o.Theme)
		}
	}
}

func TestPathIsShort(t *testing.T) {
	s := &svgWriter{l: &List{Sheet: Rect{Max: Point{9, 9}}}}
	got := s.path([]Point{{0, 0}, {3, 0}, {3, 0}, {3, 2}, {4.126, 3}}, true)
	if want := "M0 0H3V2L4.13 3z"; got != want {
		t.Errorf("path is %q, want %q", got, want)
	}
	if got := num(-0.001); got != "0" {
		t.Errorf("num of -0.001 is %q, want 0", got)
	}
}

func TestCheckRefuses(t *testing.T) {
	nan, sheet := math.NaN(), Rect{Max: Point{9, 9}}
	for _, c := range []struct {
		why string
		l   List
	}{
		{"a name with a space", List{Name: "a b", Sheet: sheet}},
		{"no name", List{Sheet: sheet}},
		{"an empty sheet", List{Name: "a"}},
		{"a negative scale", List{Name: "a", Sheet: sheet, Scale: -1}},
		{"a position that is not finite", List{Name: "a", Sheet: sheet, Items: []Item{&Line{Points: []Point{{0, 0}, {nan, 0}}}}}},
		{"one deep in a group", List{Name: "a", Sheet: sheet, Items: []Item{&Group{Items: []Item{&Circle{Radius: nan}}}}}},
		{"a line of one point", List{Name: "a", Sheet: sheet, Items: []Item{&Line{Points: []Point{{0, 0}}}}}},
		{"a ring of two points", List{Name: "a", Sheet: sheet, Items: []Item{&Area{Rings: [][]Point{{{0, 0}, {1, 1}}}}}}},
		{"an unknown token", List{Name: "a", Sheet: sheet, Items: []Item{&Circle{Fill: tokenCount}}}},
		{"an unknown hatch", List{Name: "a", Sheet: sheet, Items: []Item{&Circle{Hatch: hatchCount}}}},
		{"text without size", List{Name: "a", Sheet: sheet, Items: []Item{&Text{Text: "a"}}}},
		{"a class with a quote", List{Name: "a", Sheet: sheet, Items: []Item{&Group{Class: `a"`}}}},
	} {
		if err := SVG(io.Discard, &c.l, SVGOptions{}); err == nil {
			t.Errorf("%s was not refused", c.why)
		}
	}
	if err := SVG(io.Discard, sample(), SVGOptions{ID: "1 2"}); err == nil {
		t.Error("an id with a space was not refused")
	}
}

func TestFailedWriteIsReported(t *testing.T) {
	r, w := io.Pipe()
	r.Close()
	if err := SVG(w, sample(), SVGOptions{}); err == nil {
		t.Error("a failed write was not reported")
	}
}

func TestPaperAndModelAreInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-50, 50)
		l := &List{Sheet: Rect{Point{-3, -2}, Point{40, 30}}, Scale: rapid.Float64Range(0.5, 200).Draw(t, "scale"), Up: rapid.Bool().Draw(t, "up")}
		p := Point{f.Draw(t, "x"), f.Draw(t, "y")}
		q := l.Model(l.Paper(p))
		if math.Hypot(q.X-p.X, q.Y-p.Y) > 1e-9 {
			t.Fatalf("%v came back as %v", p, q)
		}
	})
}

// Wanted: by hand; 10 letters of 0.556 and the factor of the table.
func TestTextBox(t *testing.T) {
	l := &List{Sheet: Rect{Max: Point{100, 100}}}
	w := 10 * 0.556 * 10 * wider
	for _, c := range []struct {
		text Text
		want Rect
	}{
		{Text{At: Point{50, 50}, Size: 10}, Rect{Point{50, 42.4}, Point{50 + w, 52.2}}},
		{Text{At: Point{50, 50}, Size: 10, Anchor: End}, Rect{Point{50 - w, 42.4}, Point{50, 52.2}}},
		{Text{At: Point{50, 50}, Size: 10, Anchor: Middle, Lift: Center}, Rect{Point{50 - w/2, 46}, Point{50 + w/2, 55.8}}},
		{Text{At: Point{50, 50}, Size: 10, Turn: 90}, Rect{Point{42.4, 50 - w}, Point{52.2, 50}}},
	} {
		c.text.Text = "0123456789"
		got := l.TextBox(&c.text)
		for _, d := range []float64{got.Min.X - c.want.Min.X, got.Min.Y - c.want.Min.Y, got.Max.X - c.want.Max.X, got.Max.Y - c.want.Max.Y} {
			if math.Abs(d) > 1e-9 {
				t.Errorf("box of %+v is %v, want %v", c.text, got, c.want)
				break
			}
		}
	}
}

// A draughtsman's figures are read from below or from the right.
func TestDimensionFigureIsReadable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
		l := &List{Sheet: Rect{Max: Point{9, 9}}, Scale: 50, Up: rapid.Bool().Draw(t, "up")}
		d := &Dimension{A: Point{4, 4}, B: Point{4 + 2*math.Cos(turn), 4 + 2*math.Sin(turn)}, Offset: 20, Text: "2.00 m"}
		if f := d.Figure(l); f.Turn < -90 || f.Turn > 90.02 {
			t.Fatalf("direction %.3f rad: figure is turned by %.2f°", turn, f.Turn)
		}
	})
}

func TestDimensionStandsLeftOfItsDirection(t *testing.T) {
	l := &List{Sheet: Rect{Max: Point{9, 9}}, Scale: 10, Up: true}
	d := &Dimension{A: Point{1, 1}, B: Point{5, 1}, Offset: 20}
	line := d.Parts(l)[0].(*Line)
	if got := line.Points[0]; math.Abs(got.Y-3) > 1e-12 || got.X != 1 {
		t.Errorf("dimension line starts at %v, want (1, 3): 20 px above at 10 px to the unit", got)
	}
	if got := (&Dimension{A: Point{1, 1}, B: Point{1, 1}}).Parts(l); got != nil {
		t.Errorf("a dimension without length gave %d parts", len(got))
	}
}

func TestEveryHatchHasStrokes(t *testing.T) {
	seen := map[string]bool{}
	for h := Plain + 1; h < hatchCount; h++ {
		tile := h.Tile()
		if len(tile.Strokes) == 0 || tile.Width <= 0 || tile.Height <= 0 || tile.Pen <= 0 {
			t.Errorf("hatch %v has no strokes or no size", h)
		}
		if seen[h.String()] {
			t.Errorf("two hatches are named %v", h)
		}
		seen[h.String()] = true
	}
}
