package unit

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		kind   Kind
		si     float64
		system System
		digits int
		want   string
	}{
		{Length, 3.81, US, 0, "12 ft 6 in"},
		{Length, 3.81, SI, 2, "3.81 m"},
		{Length, 0.305, US, 1, "1 ft 0.0 in"},
		{Length, 3.6575, US, 0, "12 ft 0 in"}, // 11.996 in is carried over
		{Length, 0.15, US, 1, "5.9 in"},
		{Length, 0.15, SI, 0, "15 cm"},
		{Length, 0.006, SI, 0, "6 mm"},
		{Length, 0, SI, 0, "0 m"},
		{Length, -3.81, US, 0, "-12 ft 6 in"},
		{Area, 18.580608, US, 0, "200 ft²"},
		{Volume, 3.4068706056, US, 0, "900 gal"},
		{Volume, 0.208, SI, 0, "208 L"},
		{Temperature, -35, US, 0, "-31 °F"},
		{Temperature, 3.44, SI, 1, "3.4 °C"},
		{Temperature, -0.04, SI, 1, "0.0 °C"}, // never -0.0
		{Temperature, 0, US, 0, "32 °F"},
		{TemperatureDifference, 5, US, 1, "9.0 °F"}, // no offset
		{TemperatureDifference, 2.9, SI, 1, "2.9 °C"},
		{Angle, math.Pi / 4, SI, 0, "45°"},
		{Resistance, 19 * 0.1761102, US, 0, "R-19"},
		{Resistance, 3.3, SI, 1, "3.3 m² K/W"},
		{Energy, 43.2e6, US, 0, "12 kWh"},
		{Duration, 5400, SI, 1, "1.5 h"},
		{Duration, 90, SI, 1, "1.5 min"},
		{Power, 117, SI, 0, "117 W"},
		{Power, 23000, SI, 1, "23.0 kW"},
		{Share, 0.5, US, 0, "50 %"},
		{Count, 12, US, 0, "12"},
		{Speed, 5.36448, US, 0, "12 mph"},
		{Temperature, math.NaN(), SI, 1, "none"},
		{Temperature, math.Inf(-1), US, 1, "none"},
	} {
		if got := Format(c.kind, c.si, c.system, c.digits); got != c.want {
			t.Errorf("Format(%v, %g) = %q, want %q", c.kind, c.si, got, c.want)
		}
	}
}

func TestMain_isTheColumnHead(t *testing.T) {
	if got := Main(Temperature, US); got != "°F" {
		t.Errorf("Main = %q", got)
	}
	if got := InMain(Temperature, -35, US); got != -31 {
		t.Errorf("InMain = %g", got)
	}
	if got, err := In(Temperature, -35, "degF"); err != nil || got != -31 {
		t.Errorf("In = %g, %v", got, err)
	}
	if _, err := In(Temperature, -35, "feets"); err == nil || !strings.Contains(err.Error(), "known: degF") {
		t.Errorf("In: %v", err)
	}
	for _, k := range Kinds() {
		for _, s := range []System{SI, US} {
			if v := InMain(k, 1, s); math.IsNaN(v) {
				t.Errorf("InMain(%v, %v) is not a number", k, s)
			}
		}
	}
}

func TestLike(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		si   float64
		want string
	}{
		{Length, "12 ft 6 in", 3.6576, "12 ft 0 in"},
		{Length, "12 ft 6 in", 3.81, "12 ft 6 in"},
		{Length, "12 ft 6 in", -3.81, "-12 ft 6 in"},
		{Length, "380 cm", 3.81, "381 cm"},
		{Resistance, "R-19", 30 * 3600 * 0.3048 * 0.3048 * 5 / 9 / 1055.05585262, "R-30"},
		{Temperature, "-9 °F", -35, "-31 degF"},
		{Duration, "1 h 30 min", 7200, "2 h 0 min"},
		{Angle, `39° 44' 30"`, 40 * math.Pi / 180, "40 deg 0 arcmin 0 arcsec"},
		{Volume, "55 gal", 3.4068706056, "900 gal"},
		{Share, "0.5", 0.25, "0.25"},
		{Share, "50 %", 0.25, "25 %"},
	} {
		q, err := Parse(c.kind, c.text)
		if err != nil {
			t.Fatal(err)
		}
		if got := Like(q, c.si); got != c.want {
			t.Errorf("Like(%q, %g) = %q, want %q", c.text, c.si, got, c.want)
		}
	}
}

// Whatever is written in a unit is read back: a document edited by us keeps its
// meaning to 1e-9.
func TestLikeIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := &units[rapid.IntRange(0, len(units)-1).Draw(t, "unit")]
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "value")
		switch {
		case e.kind == Temperature:
			v = math.Abs(v) + 300
		case e.kind == Share && e.name == "":
			v = math.Abs(v) / 1e6
		case e.kind == Count:
			v = math.Round(v)
		}
		si := e.toSI(v)
		text := Like(Quantity{Kind: e.kind, Unit: e.name}, si)
		q, err := Parse(e.kind, text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if math.Abs(q.SI-si) > 1e-9*math.Abs(si)+1e-300 && e.kind != Temperature || math.Abs(q.SI-si) > 1e-9*math.Max(math.Abs(si), 300) {
			t.Fatalf("%q read back as %.17g, was %.17g", text, q.SI, si)
		}
	})
}

func TestPartsAreReadBack(t *testing.T) {
	forms := []struct {
		kind Kind
		text string
	}{{Length, "1 ft 1 in"}, {Duration, "1 d 1 h 1 min"}, {Mass, "1 lb 1 oz"}, {Angle, "1 deg 1 arcmin 1 arcsec"}, {Length, "1 mi 1 yd 1 ft 1 in"}}
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(forms).Draw(t, "form")
		q, err := Parse(f.kind, f.text)
		if err != nil {
			t.Fatal(err)
		}
		si := rapid.Float64Range(-1e5, 1e5).Draw(t, "value")
		back, err := Parse(f.kind, Like(q, si))
		if err != nil {
			t.Fatalf("%q: %v", Like(q, si), err)
		}
		if math.Abs(back.SI-si) > 1e-9*math.Max(1e-3, math.Abs(si)) {
			t.Fatalf("%q read back as %.17g, was %.17g", Like(q, si), back.SI, si)
		}
	})
}

// What is printed for people differs from the value by no more than half its last digit.
func TestFormatRounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		si := rapid.Float64Range(-100, 100).Draw(t, "value")
		system := rapid.SampledFrom([]System{SI, US}).Draw(t, "system")
		text := Format(Temperature, si, system, 1)
		q, err := Parse(Temperature, text)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(q.SI-si) > 0.05+1e-9 {
			t.Fatalf("%q is %g, was %g", text, q.SI, si)
		}
	})
}

func TestNearest(t *testing.T) {
	keys := []string{"length", "width", "height", "glazing", "ft", "in", "m"}
	for _, c := range []struct {
		word, want string
		ok         bool
	}{
		{"lenght", "length", true}, // two letters exchanged are one slip
		{"lengthh", "length", true},
		{"GLAZING", "glazing", true},
		{"glasing", "glazing", true},
		{"hieght", "height", true},
		{"fft", "ft", true},
		{"colour", "", false},
		{"x", "", false}, // one letter for another says nothing
		{"", "", false},
	} {
		got, ok := Nearest(c.word, keys)
		if got != c.want || ok != c.ok {
			t.Errorf("Nearest(%q) = %q, %v, want %q, %v", c.word, got, ok, c.want, c.ok)
		}
	}
}

func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"abc", "", 3}, {"kitten", "sitting", 3}, {"ca", "ac", 1}, {"flaw", "lawn", 2}} {
		if got := slips([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("slips(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// FuzzParse holds what Parse promises for any text: no panic, a finite value, an
// *Error with a column inside the text, and an accepted value that can be written back.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"12 ft 6 in", "-9 degF", "R-19", "0.1 Btu/(h ft2 degF)", "3,8 m", "1e999 m", "°", "5 1/2 in", `12'-6"`, "1/0", "0x1", "", "\xff", "9 m/(", "2 sq"} {
		for k := range kinds {
			f.Add(k, s)
		}
	}
	f.Fuzz(func(t *testing.T, k int, text string) {
		if k < int(Length) || k >= len(kinds) {
			return
		}
		q, err := Parse(Kind(k), text)
		if err != nil {
			e, ok := err.(*Error)
			if !ok || e.Column < 1 || e.Column > len(text)+1 || e.What == "" {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		if math.IsNaN(q.SI) || math.IsInf(q.SI, 0) {
			t.Fatalf("%q gave %g", text, q.SI)
		}
		if a := math.Abs(q.SI); a > 1e12 || a < 1e-9 && a != 0 {
			return
		}
		back, err := Parse(q.Kind, Like(q, q.SI))
		if err != nil || math.Abs(back.SI-q.SI) > 1e-9*math.Max(1, math.Abs(q.SI)) {
			t.Fatalf("%q -> %q: %g, %v, was %g", text, Like(q, q.SI), back.SI, err, q.SI)
		}
	})
}
