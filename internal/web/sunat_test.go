package web

import (
	"strings"
	"testing"

	"suncellar/examples"
)

// A point is told with its hours on the day that is asked for, by default the shortest; a point in the earth is told to be none; a day that there is not is refused.
func TestSun(t *testing.T) {
	s, _ := site(t, "")
	at := func(in SunRequest) (int, SunAnswer, string) {
		t.Helper()
		in.Name, in.Text = "l.yaml", string(examples.LarchHollow)
		status, _, text := ask(t, s, "POST", "/api/sun", in)
		if status != 200 {
			return status, SunAnswer{}, text
		}
		return status, decode[SunAnswer](t, text), ""
	}
	number := func(v float64) *float64 { return &v }
	_, first, _ := at(SunRequest{})
	if first.Month != 12 || first.Day != 21 || !strings.Contains(first.Sentence, "direct sun on 21 December") || !strings.Contains(first.Sentence, "front bed, on the soil") || !strings.Contains(first.Picture.SVG, "middle bed") || first.Heard == "" {
		t.Errorf("%+v", first)
	}
	_, summer, _ := at(SunRequest{X: &first.X, Z: &first.Z, Month: 6, Day: 21})
	if summer.X != first.X || summer.Z != first.Z || summer.Hours == first.Hours || !strings.Contains(summer.Sentence, "21 June") {
		t.Errorf("%+v", summer)
	}
	if _, out, _ := at(SunRequest{X: number(-3), Z: number(-1)}); out.Sentence != "This point is not in the room of the house." || out.Picture.SVG != "" {
		t.Errorf("%+v", out)
	}
	if status, _, text := at(SunRequest{Month: 2, Day: 30}); status != 422 || !strings.Contains(text, "February has no day 30") {
		t.Errorf("%d %s", status, text)
	}
	if status, _, _ := ask(t, s, "POST", "/api/sun", SunRequest{Name: "x", Text: "suncellar: 1\n"}); status != 422 {
		t.Errorf("a plan that is none: %d", status)
	}
}
