package report

import (
	"strings"
	"testing"

	"suncellar/internal/carry"
	"suncellar/internal/chance"
	"suncellar/internal/greenhouse"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

// banded is a winter with a lowest and its band over houses, to first order.
func banded(lowest, lo, hi, limit float64) (*winter.Answer, OfHouse) {
	p := winter.Place{Name: "bed, leaf tips", Kind: greenhouse.LeafPlace, LowestC: lowest}
	if lowest < limit {
		p.HoursBelowLimit = 1
	}
	a := &winter.Answer{Places: []winter.Place{p}, LimitC: limit}
	return a, OfHouse{Order: &worth.UnitAnswer{Band: &worth.Band{Lo: worth.Measures{LeafC: lo}, Hi: worth.Measures{LeafC: hi}}}}
}

// What the band of the house means is told, and never that a limit holds: one winter cannot tell that, however far above it the band lies.
func TestWhatTheBandMeans(t *testing.T) {
	for _, c := range []struct {
		lowest, lo, hi, limit float64
		first, sure           string
	}{
		{-3, -6, -1, 0, "Frost reaches", "All of it lies below freezing."},
		{-1, -4, 2, 0, "Frost reaches", "It reaches to both sides of freezing: what is not known decides."},
		{3, -1, 5, 0, "what is not known of the house can take it below freezing, and another winter can be colder", "It reaches to both sides of freezing"},
		{1.5, 0.5, 3, 0, "comes within 1.5 °C of freezing", "too near to count upon"},
		{9, 7, 11, 0, "another winter can be colder", "whether that holds in other winters is for 'suncellar chance' to tell"},
		{4, 1, 6, 2, "can take it below its limit of 2.0 °C", "both sides of 2.0 °C"},
	} {
		a, of := banded(c.lowest, c.lo, c.hi, c.limit)
		first, sure := Teller{}.firstSentence(a, of), Teller{}.surely(a, of)
		if !strings.Contains(first, c.first) || !strings.Contains(sure, c.sure) {
			t.Errorf("%g in %g to %g, limit %g:\n%s\n%s", c.lowest, c.lo, c.hi, c.limit, first, sure)
		}
		for _, promise := range []string{"stays above", "safe", "unlikely"} {
			if strings.Contains(strings.ToLower(first+sure), promise) {
				t.Errorf("%q promises: %s %s", promise, first, sure)
			}
		}
	}
}

// Drawn houses are told before the first order; without either nothing is said of houses, and why there is none stands in its place.
func TestWhichBandIsTold(t *testing.T) {
	a, of := banded(-1, -4, 2, 0)
	if got := (Teller{}).surely(a, of); !strings.Contains(got, "between -4.0 and 2.0 °C") || !strings.Contains(got, "to first order") {
		t.Error(got)
	}
	of.Drawn = &chance.Houses{Draws: 60, Places: []chance.HousesPlace{{Name: "bed, leaf tips", Kind: greenhouse.LeafPlace, Band: chance.Band{Lo: -3.5, Middle: -1, Hi: 1.5}}}}
	if got := (Teller{}).surely(a, of); !strings.Contains(got, "between -3.5 and 1.5 °C") || !strings.Contains(got, "by 60 drawn houses") {
		t.Error(got)
	}
	p := &page{}
	Teller{}.ofHouse(p, a, OfHouse{Why: "All is known.", WhyNotDrawn: "No house was drawn."})
	if got := p.String(); !strings.Contains(got, "All is known.") || !strings.Contains(got, "No house was drawn.") {
		t.Error(got)
	}
	if got := (Teller{}).surely(a, OfHouse{}); strings.Contains(got, "8 of 10") {
		t.Error(got)
	}
}

// Times are cut off and never rounded up; what was not run to its end is "more than".
func TestCarryBandWords(t *testing.T) {
	for _, c := range []struct {
		x          carry.Times
		cell, sure string
	}{
		{carry.Times{Lo: 15.9, Hi: 51}, "0.6 to 2.1", "between 15 hours and 2 days and 3 hours"},
		{carry.Times{Lo: 0, Hi: 51, MoreHi: true}, "0.0 to > 2.1", "between none at all and more than 2 days and 3 hours"},
		{carry.Times{Lo: 240, Hi: 1440, MoreHi: true}, "10.0 to > 60", "between 10 days and more than 60 days"},
		{carry.Times{Lo: 1440, Hi: 1440, MoreLo: true, MoreHi: true}, "> 60", "the time that counts is more than 60 days"},
	} {
		a := &carry.Answer{Band: &carry.Band{Asked: c.x}}
		if got := timesWords(c.x); got != c.cell {
			t.Errorf("%+v in a cell: %s, want %s", c.x, got, c.cell)
		}
		if got := (Teller{}).carrySure(a); !strings.Contains(got, c.sure) || !strings.Contains(got, "In 8 of 10 houses") {
			t.Errorf("%+v: %s", c.x, got)
		}
	}
	if got := (Teller{}).carrySure(&carry.Answer{Band: &carry.Band{Why: "All is known."}}); !strings.Contains(got, "All is known.") || strings.Contains(got, "8 of 10") {
		t.Error(got)
	}
}
