package drawing

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"suncellar/internal/draw"
)

var update = flag.Bool("update", false, "write the golden files anew")

func frames() []Frame {
	var out []Frame
	for _, w := range []float64{320, 360, 480, 559, 560, 720, 1000, 1600} {
		out = append(out, Frame{Width: w}, Frame{Width: w, Units: American()})
	}
	return out
}

// texts returns all texts of a picture with the boxes they are estimated to
// cover; figures of dimensions are among them.
func texts(l *draw.List) (ts []*draw.Text, boxes []draw.Rect) {
	l.Walk(func(it draw.Item) {
		switch v := it.(type) {
		case *draw.Text:
			ts = append(ts, v)
		case *draw.Dimension:
			ts = append(ts, v.Figure(l))
		}
	})
	for _, t := range ts {
		boxes = append(boxes, l.TextBox(t))
	}
	return ts, boxes
}

// checkTexts wants every text on the sheet, large enough, and clear of every
// other. A line of text is taken at 15 px, as it is set.
func checkTexts(t interface{ Errorf(string, ...any) }, name string, l *draw.List) {
	w, h := l.Size()
	sheet := draw.Rect{Max: draw.Point{X: w, Y: h}}
	ts, boxes := texts(l)
	for i, a := range boxes {
		if !sheet.Holds(a) {
			t.Errorf("%s: %q leaves the sheet of %g by %g px: %.1f", name, ts[i].Text, w, h, a)
		}
		if ts[i].Size < sizeText {
			t.Errorf("%s: %q is %g px high, must be at least %g", name, ts[i].Text, ts[i].Size, sizeText)
		}
		for j := range i {
			if a.Grow(-0.5).Overlaps(boxes[j].Grow(-0.5)) {
				t.Errorf("%s: %q %.1f lies on %q %.1f", name, ts[i].Text, a, ts[j].Text, boxes[j])
			}
		}
	}
}

func TestNoTextLeavesTheSheetOrLiesOnAnother(t *testing.T) {
	for _, p := range pictures() {
		for _, f := range frames() {
			checkTexts(t, fmt.Sprintf("%s at %g px in %s", p.name, f.Width, f.Units.Degree), mustDraw(t, p, f))
		}
	}
}

func TestPicturesAreValidAndTheSameEveryTime(t *testing.T) {
	for _, p := range pictures() {
		for _, f := range []Frame{{Width: 360}, {Width: 1000}} {
			var first bytes.Buffer
			for k := range 3 {
				var b bytes.Buffer
				if err := draw.SVG(&b, mustDraw(t, p, f), draw.SVGOptions{}); err != nil {
					t.Fatal(err)
				}
				if k == 0 {
					first = b
					continue
				}
				if !bytes.Equal(b.Bytes(), first.Bytes()) {
					t.Errorf("%s at %g px: the same numbers gave other bytes", p.name, f.Width)
				}
			}
			if err := xml.Unmarshal(first.Bytes(), new(struct{})); err != nil {
				t.Errorf("%s at %g px: %v", p.name, f.Width, err)
			}
		}
	}
}

func TestPicturesAreNarrowAsAsked(t *testing.T) {
	for _, p := range pictures() {
		for _, f := range frames() {
			if w, _ := mustDraw(t, p, f).Size(); w < f.Width-0.01 || w > f.Width+0.01 {
				t.Errorf("%s: %g px wide, want %g", p.name, w, f.Width)
			}
		}
		for _, w := range []float64{319, 1601, -1} {
			if _, err := p.draw(Frame{Width: w}); err == nil {
				t.Errorf("%s: a width of %g px was not refused", p.name, w)
			}
		}
	}
}

// Text may stand in every ink but Sun, and alarm is for danger alone.
func TestPicturesUseTokensAsMeant(t *testing.T) {
	for _, p := range pictures() {
		l := mustDraw(t, p, Frame{Width: 1000})
		ts, _ := texts(l)
		for _, x := range ts {
			if x.Ink == draw.Sun || x.Ink == draw.Rule || x.Ink == draw.Alarm {
				t.Errorf("%s: %q is set in %v", p.name, x.Text, x.Ink)
			}
		}
		l.Walk(func(it draw.Item) {
			switch v := it.(type) {
			case *draw.Area:
				checkFrostHatch(t, p.name, v.Fill, v.Hatch)
			case *draw.Circle:
				checkFrostHatch(t, p.name, v.Fill, v.Hatch)
			}
		})
	}
}

func checkFrostHatch(t *testing.T, name string, fill draw.Token, hatch draw.Hatch) {
	t.Helper()
	if cold := fill >= draw.Cold6 && fill <= draw.Cold1; cold != (hatch == draw.FrostHatch) && fill >= draw.Cold6 && fill <= draw.Warm6 {
		t.Errorf("%s: fill %v has hatch %v", name, fill, hatch)
	}
}

// structure tells the layers of a picture, how many items of each kind each
// holds, and its words; it leaves out positions, which may move.
func structure(l *draw.List) string {
	var b strings.Builder
	fmt.Fprintf(&b, "title: %s\ndesc: %s\n", l.Title, l.Desc)
	for _, it := range l.Items {
		g, ok := it.(*draw.Group)
		if !ok {
			fmt.Fprintf(&b, "loose %T\n", it)
			continue
		}
		counts := map[string]int{}
		var said []string
		for _, x := range g.Items {
			counts[strings.TrimPrefix(fmt.Sprintf("%T", x), "*draw.")]++
			switch v := x.(type) {
			case *draw.Text:
				said = append(said, v.Text)
			case *draw.Dimension:
				said = append(said, v.Text)
			}
		}
		fmt.Fprintf(&b, "%s:", g.Class)
		for _, k := range []string{"Area", "Line", "Circle", "Text", "Dimension"} {
			if counts[k] > 0 {
				fmt.Fprintf(&b, " %d %s", counts[k], k)
			}
		}
		b.WriteByte('\n')
		for _, s := range said {
			fmt.Fprintf(&b, "  | %s\n", s)
		}
	}
	return b.String()
}

func TestStructure(t *testing.T) {
	for _, p := range pictures() {
		for _, w := range []float64{360, 1000} {
			got := structure(mustDraw(t, p, Frame{Width: w}))
			file := filepath.Join("testdata", fmt.Sprintf("%s-%g.txt", p.name, w))
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s at %g px has another structure than %s (write it anew with -update); it is now\n%s", p.name, w, file, got)
			}
		}
	}
}
