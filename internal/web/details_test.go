package web

import (
	"encoding/csv"
	"strings"
	"testing"

	"suncellar/examples"
)

// Details of a winter come of the winter that is kept; each is told in the units that are asked for, and what is asked wrongly is told with what is allowed.
func TestDetails(t *testing.T) {
	s, _ := site(t, "")
	loft := string(examples.All()[2].Plan)
	in := DetailRequest{Name: "crow-loft.yaml", Text: loft, View: View{Units: "US", Width: 400}}
	_, _, text := ask(t, s, "POST", "/api/winter", AnswerRequest{Name: in.Name, Text: loft, View: in.View})
	a := decode[WinterAnswer](t, text)
	if a.Degree != "°F" || len(a.Days) != 14 || a.Days[0].From != "2001-01-01" || a.Days[0].Until != "2001-12-31" || a.Days[3].Name != "February" || !strings.Contains(a.Zone, "UTC") || a.Places[0].Lowest == "" || a.Places[0].LowestWhen == "" {
		t.Errorf("degree %q, days %v, zone %q, first place %+v", a.Degree, a.Days, a.Zone, a.Places[0])
	}
	_, _, text = ask(t, s, "POST", "/api/winter/spell", in)
	spell := decode[HourPicture](t, text)
	if len(spell.When) != 240 || len(spell.Series) < 3 || len(spell.Series[0].Told) != 240 || spell.Series[0].Unit != "°F" || spell.Cells.Columns != 240 || !strings.HasPrefix(spell.Picture.SVG, "<svg") {
		t.Errorf("%d hours, %d series, %.300s", len(spell.When), len(spell.Series), text)
	}
	in.Place = a.Places[1].Name
	_, _, text = ask(t, s, "POST", "/api/winter/sheet", in)
	if sheet := decode[HourPicture](t, text); sheet.Series[0].Name != in.Place || sheet.Cells.Columns != 24 || len(sheet.When) < 240 {
		t.Errorf("sheet of %v, %d hours", sheet.Series[0].Name, len(sheet.When))
	}
	_, _, text = ask(t, s, "POST", "/api/winter/section", in)
	if parts := decode[PartsPicture](t, text).Parts; len(parts) == 0 || !strings.Contains(parts[0].Told, "°F") || len(parts[0].Outline) < 2 {
		t.Errorf("parts %+v", parts)
	}
	in.From, in.Until, in.Columns = "2001-01-07", "2001-01-07", true
	_, _, text = ask(t, s, "POST", "/api/winter/heat", in)
	if heat := decode[HeatBooks](t, text); len(heat.Rows) == 0 || heat.Sum.In == "" || heat.From != in.From || heat.Picture == nil || heat.Picture.Name != "heat-columns.svg" {
		t.Errorf("heat %.400s", text)
	}
	in.From, in.Until = "2002-02-01", ""
	for _, what := range []string{"heat", "spell"} {
		if status, _, text := ask(t, s, "POST", "/api/winter/"+what, in); status != 422 || !strings.Contains(text, "from 2001-01-01 to 2001-12-31") {
			t.Errorf("%s of a day outside the run: %d %.200s", what, status, text)
		}
	}
	in.From, in.Place = "", "attic"
	if status, _, text := ask(t, s, "POST", "/api/winter/sheet", in); status != 422 || !strings.Contains(text, "attic") {
		t.Errorf("a place that is not there: %d %s", status, text)
	}
}

// Tables come as CSV, of the days that are asked for. Where light falls is given in this plan, so there is none to tell.
func TestFiles(t *testing.T) {
	s, _ := site(t, "")
	in := FileRequest{DetailRequest: DetailRequest{Name: "crow-loft.yaml", Text: string(examples.All()[2].Plan)}}
	for of, want := range map[string]struct {
		rows int
		head string
	}{"places": {14, "lowest [degC]"}, "light": {1, "light [mol/m2d]"}, "heat": {0, "stored [J]"}, "not-known": {2, "colder [K]"}, "assumed": {0, "path,value,source"}, "hours": {49, "outdoor air [degC]"}} {
		in.Of, in.From, in.Until = of, "2001-01-07", "2001-01-08"
		status, h, text := ask(t, s, "POST", "/api/winter/csv", in)
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if status != 200 || err != nil || !strings.HasPrefix(h.Get("Content-Type"), "text/csv") || !strings.Contains(text, want.head) || len(rows) < 1 || of != "not-known" && want.rows > 0 && len(rows) != want.rows || len(rows) < want.rows {
			t.Errorf("%s: %d %v, %d rows, %v: %.200s", of, status, err, len(rows), h, text)
		}
	}
	in.Of = "everything"
	if status, _, _ := ask(t, s, "POST", "/api/winter/csv", in); status != 422 {
		t.Errorf("no such table: %d", status)
	}
	in.Of, in.From = "hours", "2001-01-08"
	in.Until = "2001-01-07"
	if status, _, text := ask(t, s, "POST", "/api/winter/csv", in); status != 422 || !strings.Contains(text, "must not lie before") {
		t.Errorf("days turned round: %d %s", status, text)
	}
}
