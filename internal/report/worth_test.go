package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"suncellar/internal/unit"
	"suncellar/internal/worth"
)

// invented is an answer with rows of every sort; its figures are made up.
func invented(t *testing.T) *worth.UnitAnswer {
	first := answer(t)
	row := func(id, label string, kind worth.Kind, one worth.Amount, leaf float64) worth.Worth {
		return worth.Worth{Parameter: worth.Parameter{ID: id, Label: label, Kind: kind, One: one}, Per: worth.Measures{LeafC: leaf / one.SI, LightMol: -0.1 / one.SI},
			Half: worth.Measures{LeafC: 1.1 * leaf / one.SI, LightMol: -0.1 / one.SI}, HasHalf: true, Used: 2 * one.SI}
	}
	cm := worth.Amount{SI: 0.01, In: "1 cm", US: 0.0254, Us: "1 in"}
	a := &worth.UnitAnswer{First: first, At: worth.At{Leaf: first.Places[first.Watched].Name, Air: "canopy air", Soil: "bed, soil 10 cm", Water: true}, Base: worth.Measures{LeafC: -1, ColdKh: 40},
		From: first.Result.Start, Until: first.Result.Time(first.Result.Hours() - 1), Built: first.Result.Start, Rung: 1, Runs: 9}
	leak := row("leakage.area", "leakage area of the joints", worth.Build, worth.Amount{SI: 0.01, In: "100 cm²", US: 0.0064516, Us: "10 sq in"}, -0.8)
	dig := row("shape.depth", "depth of the floor", worth.Build, worth.Amount{SI: 0.1, In: "10 cm", US: 0.1524, Us: "6 in"}, 0.1)
	dig.Deeper = true
	dig.Notes = []string{"half the usual step, or less: too deep"}
	snow := row("snow.brushed", "snow brushed off the next morning", worth.Build, worth.Amount{SI: 1, US: 1}, -0.3)
	snow.Switch, snow.Snow, snow.HasHalf = true, true, false
	broken := row("cover", "night cover", worth.Build, worth.Amount{SI: 1, US: 1}, 0)
	broken.Err = errors.New("it did not run")
	guess := row("leakage.area, not known", "leakage", worth.Unknown, worth.Amount{SI: 1, In: "double or half", US: 1, Us: "double or half"}, -1)
	guess.More, guess.HasMore, guess.Less, guess.HasLess, guess.Prior = worth.Measures{LeafC: -1.2}, true, worth.Measures{LeafC: 0.8}, true, "judgement"
	a.Rows = []worth.Worth{dig, row("builds.roof.layers[0].thickness", "mineral wool of roof", worth.Build, cm, 0.06), leak, snow, broken, guess,
		row("outdoors.wind", "wind", worth.Outdoors, worth.Amount{SI: 1, In: "1 m/s", US: 0.44704, Us: "1 mph"}, -0.2)}
	a.Band = &worth.Band{Middle: worth.Measures{LeafC: -1}, Lo: worth.Measures{LeafC: -2.5}, Hi: worth.Measures{LeafC: 0.1}}
	return a
}

func TestWorthIsToldForPeople(t *testing.T) {
	a := invented(t)
	for _, c := range []struct {
		system unit.System
		wants  []string
		not    []string
	}{
		{unit.SI, []string{"leakage area of the joints, 100 cm² less: 0.80 °C", "mineral wool of roof, 1 cm more +0.06", "snow brushed off the next morning -0.30", "In 8 of 10 houses built like this one the lowest of", "is between -2.5 and 0.1 °C in this same winter",
			"leakage -1.20 +0.80 double or half", "depth of the floor: half the usual step", "night cover: not computed: it did not run", "Walls of earth can fall without warning", "Snow left lying: not offered", "9 runs from", "± ", "wind, 1 m/s less +0.20"}, []string{"°F"}},
		{unit.US, []string{"leakage area of the joints, 10 sq in less +0.93", "mineral wool of roof, 1 in more +0.27", "6 in more"}, []string{"°C", " cm more"}},
	} {
		text := Teller{System: c.system}.Worth(a, OfHouse{})
		for i, line := range strings.Split(text, "\n") {
			if n := utf8.RuneCountInString(line); n > Width || strings.HasSuffix(line, " ") {
				t.Errorf("line %d has %d columns or ends in spaces: %q", i+1, n, line)
			}
		}
		flat := strings.Join(strings.Fields(text), " ") + " "
		for _, want := range c.wants {
			if !strings.Contains(flat, want) {
				t.Errorf("%v: the text does not hold %q", c.system, want)
			}
		}
		for _, not := range append(c.not, "stays above freezing", "winters in 10", "NaN", "%!", ",,") {
			if strings.Contains(flat, not) {
				t.Errorf("%v: the text holds %q", c.system, not)
			}
		}
		_, table, _ := strings.Cut(flat, "one unit °")
		at := func(s string) int { return strings.Index(table, s) }
		if !(at("joints, 1") < at("brushed off the next morning -") && at("brushed off the next morning -") < at("of roof, 1")) {
			t.Errorf("%v: rows are not in the order of what they are worth", c.system)
		}
	}
	p := &page{}
	Teller{}.ofHouse(p, a.First, OfHouse{Order: a})
	if band := p.String(); !strings.Contains(band, "8 in 10 houses") || strings.Contains(band, "mineral wool") {
		t.Errorf("the band alone: %s", band)
	}
}

func TestWorthJSON(t *testing.T) {
	a := invented(t)
	var b bytes.Buffer
	if err := WorthJSON(&b, a, OfHouse{}); err != nil {
		t.Fatal(err)
	}
	var got worthJSON
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Schema != (Schema{"suncellar.worth", 1}) || len(got.Things) != 5 || len(got.Unknown) != 1 || len(got.Outdoors) != 1 || got.StepS != 1800 || got.Band == nil || got.Band.Lo.LeafC != -2.5 {
		t.Errorf("%+v", got)
	}
	if leak := got.Things[2]; leak.ByUnit.LeafK != -0.8 || leak.Unit != "100 cm²" || *leak.Steps != 2 { // by one unit more, whatever the text says
		t.Errorf("leakage: %+v %+v", leak, leak.ByUnit)
	}
	if bad := got.Things[4]; bad.Error == "" || bad.ByUnit != nil {
		t.Errorf("what did not run: %+v", bad)
	}
	if got.Unknown[0].IfMore.LeafK != -1.2 || got.Unknown[0].Source == "" {
		t.Errorf("not known: %+v", got.Unknown[0])
	}
	b.Reset()
	if err := WinterJSON(&b, a.First, OfHouse{Order: a}); err != nil || !strings.Contains(b.String(), `"band_of_the_house"`) {
		t.Errorf("a winter with its band: %v", err)
	}
}

func TestWorthPictures(t *testing.T) {
	a := invented(t)
	pictures, err := Teller{}.WorthPictures(a)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, p := range pictures {
		names = append(names, p.Name)
	}
	if strings.Join(names, " ") != "worth.svg there-or-not.svg unknown.svg" {
		t.Errorf("pictures %v", names)
	}
	a.Rows = a.Rows[4:5] // what failed alone
	if pictures, err = (Teller{}).WorthPictures(a); err != nil || len(pictures) != 0 {
		t.Errorf("%d pictures of nothing: %v", len(pictures), err)
	}
}
