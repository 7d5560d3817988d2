package report

import (
	"strings"
	"testing"

	"suncellar/internal/carry"
	"suncellar/internal/drawing"
)

// Days on ice never count, a run that ended before the limit says so, and no time is rounded up.
func TestReserveCounts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a       carry.Answer
		hours   float64
		onIce   float64
		atLeast bool
	}{
		{carry.Answer{Hours: 50, IceAfterHours: -1}, 50, 0, false},
		{carry.Answer{Hours: 50, IceAfterHours: 60}, 50, 0, false},
		{carry.Answer{Hours: 50, IceAfterHours: 30}, 30, 20, false},
		{carry.Answer{Hours: 50, IceAfterHours: 0}, 0, 50, false},
		{carry.Answer{Hours: 0, IceAfterHours: -1}, 0, 0, false},
		{carry.Answer{Hours: -1, Beyond: true, IceAfterHours: -1}, 1440, 0, true},
		{carry.Answer{Hours: -1, Beyond: true, IceAfterHours: 240}, 240, 1200, false},
	} {
		if hours, onIce, atLeast := counted(&c.a); hours != c.hours || onIce != c.onIce || atLeast != c.atLeast {
			t.Errorf("%+v counts %g h, %g on ice, at least %t", c.a, hours, onIce, atLeast)
		}
	}
	for hours, want := range map[float64]float64{0: 0, 23.9: 0.9, 24: 1, 26.3: 1, 26.4: 1.1} {
		if got := wholeTenths(hours); got != want {
			t.Errorf("%g h are %g days, want %g", hours, got, want)
		}
	}
}

// The band holds the days, and where an end of it lies beyond what was run it is words and no line.
func TestReserveBand(t *testing.T) {
	t.Parallel()
	in := drawing.Reserve{Days: 1.1}
	if s := (Teller{}).reserveBand(&in, &carry.Band{Asked: carry.Times{Lo: 27, Hi: 48}}); in.Band != [2]float64{1.1, 2} || !strings.Contains(s, "count on the shorter") {
		t.Errorf("%v %s", in.Band, s)
	}
	in = drawing.Reserve{Days: 1.1}
	if s := (Teller{}).reserveBand(&in, &carry.Band{Asked: carry.Times{Lo: 5, Hi: 48, MoreHi: true}}); in.Band != [2]float64{} || !strings.Contains(s, "5 hours to more than 2 days") {
		t.Errorf("%v %s", in.Band, s)
	}
	in = drawing.Reserve{Days: 60, AtLeast: true}
	if s := (Teller{}).reserveBand(&in, &carry.Band{Asked: carry.Times{Lo: 240, Hi: 1440, MoreHi: true}}); !strings.Contains(s, "10 days to more than 60 days") {
		t.Errorf("the short end of a house that lasts is not told: %s", s)
	}
	if s := fullSentence(&carry.Answer{Full: &carry.Point{Hours: 51}}); !strings.Contains(s, "2 days and 3 hours") || fullSentence(&carry.Answer{}) != "" {
		t.Error(s)
	}
}
