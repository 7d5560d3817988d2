package weather

import (
	"math"
	"testing"
	"time"
)

func coldSpell() SpellSpec {
	return SpellSpec{Days: 5, MeanC: -12, SwingK: 6, Clearness: 0.12, Cloud: 0.95, WindMS: 2, DewPointBelowK: 1, SnowDepthM: 0.1}
}

func TestSpellIsWhatIsStated(t *testing.T) {
	place := KnownPlace(46.2, 7.1, 800)
	start := time.Date(2001, 1, 10, 0, 0, 0, 0, Zone(time.Hour))
	s, err := Spell(coldSpell(), place, start)
	if err != nil {
		t.Fatal(err)
	}
	allKnown(t, s)
	f := yearFigures(s)
	near(t, "mean", f[1], -12, 1e-9)
	near(t, "lowest", f[0], -15, 1e-9)
	near(t, "highest", f[2], -9, 1e-9)
	got, extra := 0.0, 0.0
	for i, span := range sunHours(s) {
		h := s.Hours[i]
		got, extra = got+h.GlobalWM2, extra+extraLevelWM2(span)
		near(t, "beam on level and diffuse", h.BeamWM2*math.Max(0, span.Elevation.Sin())+h.DiffuseWM2, h.GlobalWM2, 1e-9)
	}
	near(t, "clearness", got/extra, 0.12, 1e-9)
	if run := s.LongestDullRun(0.25); run.Days != 5 || math.Abs(run.MeanC+12) > 1e-9 {
		t.Errorf("longest dull run is %+v", run)
	}
	again, _ := Spell(coldSpell(), place, start)
	for i := range s.Hours {
		if !sameHour(s.Hours[i], again.Hours[i]) {
			t.Fatal("the same spell twice differs")
		}
	}
}

// sameHour compares with NaN equal to NaN.
func sameHour(a, b Hour) bool {
	for q := range quantities {
		x, y := *a.value(q), *b.value(q)
		if x != y && !(math.IsNaN(x) && math.IsNaN(y)) {
			return false
		}
	}
	return true
}

// A clearer spell has more sun, a cloudier one a warmer sky, no sun at all none.
func TestSpellLaws(t *testing.T) {
	place, start := KnownPlace(46.2, 7.1, 800), time.Date(2001, 1, 10, 0, 0, 0, 0, Zone(time.Hour))
	spell := func(change func(*SpellSpec)) Series {
		spec := coldSpell()
		change(&spec)
		s, err := Spell(spec, place, start)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	dull, clear := spell(func(*SpellSpec) {}), spell(func(c *SpellSpec) { c.Cloud = 0 })
	none := spell(func(c *SpellSpec) { c.Clearness = 0 })
	for i := range dull.Hours {
		if !(dull.Hours[i].SkyLongwaveWM2 > clear.Hours[i].SkyLongwaveWM2+20) {
			t.Fatalf("hour %d: sky %g under cloud, %g clear", i, dull.Hours[i].SkyLongwaveWM2, clear.Hours[i].SkyLongwaveWM2)
		}
		if h := none.Hours[i]; h.GlobalWM2 != 0 || h.BeamWM2 != 0 || h.DiffuseWM2 != 0 {
			t.Fatalf("sun in hour %d of none", i)
		}
	}
	if _, err := Spell(SpellSpec{Days: 1, MeanC: math.NaN()}, place, start); err == nil {
		t.Error("a spell at no temperature was taken")
	}
}

func TestReplaceSetsASpellIntoAWinter(t *testing.T) {
	start := time.Date(2001, 1, 1, 0, 0, 0, 0, mountain)
	s := inventedWinter(t, start, 20*24)
	spell, err := Spell(coldSpell(), s.Place, start.AddDate(0, 0, 9))
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Replace(spell)
	if err != nil {
		t.Fatal(err)
	}
	if got.Hours[9*24-1] != s.Hours[9*24-1] && !sameHour(got.Hours[9*24-1], s.Hours[9*24-1]) {
		t.Error("the hour before the spell changed")
	}
	near(t, "first hour of the spell", got.Hours[9*24].AirC, spell.Hours[0].AirC, 0)
	near(t, "hour after", got.Hours[14*24].AirC, s.Hours[14*24].AirC, 0)
	from, mean, ok := got.Coldest(72)
	if !ok || mean > -11.5 || from.Before(start.AddDate(0, 0, 8)) {
		t.Errorf("coldest 72 h begin %v at %g °C", from, mean)
	}
	if _, err = spell.Replace(s); err == nil {
		t.Error("a winter was set into a spell")
	}
}
