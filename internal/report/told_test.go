package report

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"suncellar/internal/draw"
	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/winter"

	"pgregory.net/rapid"
)

// Days are whole days of the plan's zone, each hour in one of them; what lies outside the run, is turned round or is no day is told with what is allowed.
func TestDays(t *testing.T) {
	a := answer(t) // 1 to 14 December
	list := DaysToChoose(a)
	if len(list) != 3 || list[0] != (Days{"the whole run", "2001-12-01", "2001-12-14"}) || list[1].Name != "worst ten days" || list[2] != (Days{"December", "2001-12-01", "2001-12-14"}) {
		t.Errorf("to choose: %v", list)
	}
	for _, c := range []struct {
		from, until string
		want        winter.Span
		err         string
	}{
		{"", "", winter.Span{From: 0, To: 14 * 24}, ""},
		{"2001-12-03", "2001-12-03", winter.Span{From: 48, To: 72}, ""},
		{"2001-12-03", "", winter.Span{From: 48, To: 14 * 24}, ""},
		{"2001-11-30", "", winter.Span{}, "must be a day from 2001-12-01 to 2001-12-14"},
		{"", "soon", winter.Span{}, `until is "soon"`},
		{"2001-12-31", "2001-12-32", winter.Span{}, "from is"},
		{"2001-12-04", "2001-12-03", winter.Span{}, "must not lie before from, 2001-12-04"},
	} {
		got, err := HoursOfDays(a, c.from, c.until)
		if got != c.want && c.err == "" || (err != nil) != (c.err != "") || err != nil && !strings.Contains(err.Error(), c.err) {
			t.Errorf("%s to %s: %v, %v", c.from, c.until, got, err)
		}
	}
	if of, err := TenDays(a, "2001-12-10"); err != nil || of != (winter.Span{From: 96, To: 336}) {
		t.Errorf("the last ten days: %v %v", of, err)
	}
	if of, _ := TenDays(a, ""); of != a.Spell {
		t.Errorf("the worst ten days are %v, want %v", of, a.Spell)
	}
	if got := ZoneWords(a); !strings.Contains(got, "UTC−06:30") {
		t.Errorf("zone: %s", got)
	}
}

// A run that ends in the month it began in has days of both under different names; a watched place of the soil has one line, not two.
func TestDaysOfAWholeYear(t *testing.T) {
	text := strings.Replace(strings.Replace(pit, "run: {from: 12-01, until: 12-14}", "run: {from: 12-20, until: 12-14, place: \"bed, soil 10 cm\"}", 1), "built: 11-25", "built: 12-15", 1)
	p, findings := plan.Load("pit.yaml", []byte(text), house.Known())
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	a, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	hours := 0
	for _, d := range DaysToChoose(a) {
		if of, err := HoursOfDays(a, d.From, d.Until); err != nil || seen[d.Name] {
			t.Errorf("%v, %v, or named twice", d, err)
		} else if seen[d.Name] = true; len(seen) > 2 {
			hours += of.To - of.From
		}
	}
	if !seen["December"] || !seen["December, at the end"] || hours != a.Result.Hours() {
		t.Errorf("months have %d of %d hours: %v", hours, a.Result.Hours(), seen)
	}
	s, err := Teller{}.Spell(a, a.Spell)
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]bool{}
	for _, l := range s.Series {
		if names[l.Name] {
			t.Errorf("%s is drawn twice", l.Name)
		}
		names[l.Name] = true
	}
}

// Every hour has its place on the picture and is told there as it is: the value beside the ring of the lowest, in both systems of units.
func TestToldHours(t *testing.T) {
	a := answer(t)
	for _, tell := range []Teller{{System: unit.SI}, {System: unit.US, Width: 360}} {
		spell, err := tell.Spell(a, a.Spell)
		if err != nil {
			t.Fatal(err)
		}
		sheet, err := tell.Sheet(a, "")
		if err != nil {
			t.Fatal(err)
		}
		if i := 24 + 23; !strings.HasPrefix(sheet.When[i], "3 December 00:30") || sheet.Days[i] != "2001-12-03" {
			t.Errorf("hour %d ends %s, its row is %s", i, sheet.When[i], sheet.Days[i])
		}
		for _, h := range []*ToldHours{spell, sheet} {
			for _, s := range h.Series {
				if len(s.SI) != len(h.When) || len(s.Told) != len(h.When) || len(h.Days) != len(h.When) || h.Cells.Hours != len(h.When) {
					t.Errorf("%s, %s: %d values, %d told, %d hours", h.Name, s.Name, len(s.SI), len(s.Told), len(h.When))
				}
			}
			w, d := h.List.Size()
			last := h.Cells.Cell(h.Cells.Hours - 1)
			if first := h.Cells.Cell(0); first.X < 0 || first.Y < 0 || last.X > w || last.Y > d {
				t.Errorf("%s: hours from %v to %v, picture %g by %g px", h.Name, first, last, w, d)
			}
		}
		k, low := 0, math.Inf(1)
		for i, c := range sheet.Series[0].SI {
			if c < low {
				k, low = i, c
			}
		}
		p := &a.Places[a.Watched]
		if sheet.Series[0].Told[k] != tell.Figure(p.LowestC) || sheet.When[k] != LowestWhen(a, p) || ringAt(sheet.List) != sheet.Cells.Cell(k) {
			t.Errorf("lowest told as %s %s, at %v; want %s %s, ringed at %v", sheet.Series[0].Told[k], sheet.When[k], sheet.Cells.Cell(k), tell.Figure(p.LowestC), LowestWhen(a, p), ringAt(sheet.List))
		}
	}
	if _, err := (Teller{}).Sheet(a, "attic"); err == nil || !strings.Contains(err.Error(), "attic") {
		t.Errorf("a place that is not there: %v", err)
	}
}

// ringAt is where a picture rings its lowest [px].
func ringAt(l *draw.List) (at draw.Point) {
	l.Walk(func(it draw.Item) {
		if c, ok := it.(*draw.Circle); ok {
			at = l.Paper(c.Center)
		}
	})
	return at
}

// Parts of the section lie on the picture, and each is told with its place's lowest.
func TestSectionParts(t *testing.T) {
	a := answer(t)
	l, parts, err := Teller{}.SectionParts(a)
	if err != nil {
		t.Fatal(err)
	}
	w, h := l.Size()
	soil := false
	for _, p := range parts {
		for _, q := range p.Px {
			if q.X < 0 || q.Y < 0 || q.X > w || q.Y > h {
				t.Errorf("%s lies at %v, outside %g by %g", p.Name, q, w, h)
			}
		}
		soil = soil || p.Told == "bed, soil 10 cm: lowest "+minus(Teller{}.temp(a.Places[placeAt(a, "bed, soil 10 cm")].LowestC))+", "+LowestWhen(a, &a.Places[placeAt(a, "bed, soil 10 cm")])
	}
	if !soil {
		t.Errorf("the bed's soil is not told as the place has it: %v", parts)
	}
}

func placeAt(a *winter.Answer, name string) int {
	for i := range a.Places {
		if a.Places[i].Name == name {
			return i
		}
	}
	return 0
}

// Whatever the days, columns add up as they are told, and what is stored makes the sides meet; days side by side make the whole.
func TestBooksCloseInSight(t *testing.T) {
	a := answer(t)
	n := a.Result.Hours()
	told := func(t *rapid.T, s string) int {
		if s == "" {
			return 0
		}
		v, err := strconv.ParseFloat(strings.ReplaceAll(s, "−", "-"), 64)
		if err != nil {
			t.Fatal(err)
		}
		return int(math.Round(v * 10))
	}
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.IntRange(0, n-24).Draw(t, "from")
		of := winter.Span{From: from, To: rapid.IntRange(from+1, n).Draw(t, "to")}
		b, err := Teller{}.Books(a, of)
		if err != nil {
			t.Fatal(err)
		}
		in, out, stored := 0, 0, 0
		for _, r := range b.Rows {
			in, out = in+told(t, r.ToldIn), out+told(t, r.ToldOut)
		}
		for _, r := range b.Stored {
			stored += told(t, r.ToldOut)
		}
		if in != told(t, b.Sum.ToldIn) || out != told(t, b.Sum.ToldOut) || in-out-stored != told(t, b.Left.ToldOut) || b.Left.ToldOut != "0" && b.Left.ToldOut != "0.0" {
			t.Errorf("hours %v: in %d, out %d, stored %d tenths of a kWh; told %+v", of, in, out, stored, b)
		}
		if b.Empty() {
			return
		}
		p, err := Teller{}.BooksPicture(b, false)
		if err != nil {
			t.Fatal(err)
		}
		if want := "In " + b.Sum.ToldIn + " kWh"; !strings.Contains(p.List.Desc, want) {
			t.Errorf("the picture says %q, want %q", p.List.Desc, want)
		}
	})
	parts, whole := 0.0, 0.0
	for from := 0; from < n; from += 24 {
		b, _ := Teller{}.Books(a, winter.Span{From: from, To: from + 24})
		parts += b.Sum.InJ
	}
	b, _ := Teller{}.Books(a, winter.Span{From: 0, To: n})
	if whole = b.Sum.InJ; math.Abs(parts-whole) > 1e-6*whole || len(b.Stored) < 2 {
		t.Errorf("days have %g J in all, the whole %g J, %d parts stored", parts, whole, len(b.Stored))
	}
}

// Files of tables are whole CSV, in SI with units in their heads, and instants with their zone.
func TestTablesAsCSV(t *testing.T) {
	a := answer(t)
	day := winter.Span{From: 24, To: 48}
	b, err := Teller{}.Books(a, day)
	if err != nil {
		t.Fatal(err)
	}
	var places, books, light, hours bytes.Buffer
	for _, err := range []error{PlacesCSV(&places, a), BooksCSV(&books, a, day, b), LightCSV(&light, a), HoursOver(&hours, a, day)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		of         *bytes.Buffer
		rows       int
		head, cell string
	}{
		{&places, len(a.Places) + 1, "lowest [degC]", stamp(local(a, a.Places[0].LowestAt))}, {&books, len(b.Rows) + len(b.Stored) + 1, "stored [J]", "2001-12-02T00:30:00-06:30"},
		{&light, len(a.Result.Strips) + 1, "light [mol/m2d]", "2001-12"}, {&hours, 25, "outdoor air [degC]", "2001-12-02T01:30:00-06:30"},
	} {
		text := c.of.String()
		rows, err := csv.NewReader(c.of).ReadAll()
		if err != nil || len(rows) != c.rows || !strings.Contains(strings.Join(rows[0], ","), c.head) || !strings.Contains(text, c.cell) {
			t.Errorf("want %d rows, %q and %q; %v in\n%.400s", c.rows, c.head, c.cell, err, text)
		}
	}
}

// The light on strips has a column for each month, and the same figures as the text.
func TestLightTable(t *testing.T) {
	a := answer(t)
	tab := Teller{}.LightTable(a)
	if tab == nil || len(tab.Rows) != len(a.Result.Strips) || strings.Join(tab.Heads, ",") != "mol/m² a day,all days,December,left quarter,middle half,right quarter" {
		t.Fatalf("%+v", tab)
	}
	text := Teller{}.Winter(a, OfHouse{})
	for _, r := range tab.Rows {
		if len(r) != len(tab.Heads) || !strings.Contains(text, r[0]) || r[1] != r[2] {
			t.Errorf("%v", r)
		}
	}
}

// Water of a drum that ran empty is told as none to speak of; that of its neighbour is not.
func TestPlaceThatRanDry(t *testing.T) {
	text := strings.Replace(pit, "at: 3.2 m}]", "at: 3.2 m, bays: 2}], events: [{kind: leak, bay: 'drums, bay 1', from: 12-03, rate: 60 L/h, to: floor}]", 1)
	p, findings := plan.Load("pit.yaml", []byte(text+"snow: {list: []}\n"), house.Known())
	if err := plan.AsError(findings); err != nil {
		t.Fatal(err)
	}
	a, err := winter.Run(context.Background(), winter.Request{Plan: p}, nil)
	if err != nil {
		t.Fatal(err)
	}
	dry := 0
	for i := range a.Places {
		note := PlaceNote(a, i)
		if want := strings.HasPrefix(a.Places[i].Name, "drums, bay 1, "); want != (note == "ran dry") {
			t.Errorf("%s: %q", a.Places[i].Name, note)
		} else if want {
			dry++
		}
	}
	if dry == 0 || !strings.Contains(Teller{}.Winter(a, OfHouse{}), "(ran dry)") {
		t.Errorf("%d places ran dry", dry)
	}
}
