package worth

import (
	"context"
	"math"
	"reflect"
	"strings"
	"testing"

	"suncellar/internal/plan"
)

// known is the pit with all known but what is named.
func known(but string) string {
	off := ""
	for _, key := range plan.UnknownKeys() {
		if key != but && key != "cover_fit" && key != "ageing" {
			off += key + ": off, "
		}
	}
	return pit + "unknown: {" + strings.TrimSuffix(off, ", ") + "}\n"
}

func firstOrder(t *testing.T, a *Answer, atOnce int) *Pairs {
	t.Helper()
	p, err := FirstOrder(context.Background(), a, atOnce, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A variant equal to the plan has a difference whose band is nothing at all; the plan's own band is that of PerUnit; a house that is tighter is worth
// more where the plan leaks more; what lacks the place is told; how many run at once changes nothing.
func TestPairs(t *testing.T) {
	t.Parallel()
	a := compare(t, request(t, pit, set("leakage.area", "60 cm2"), set("leakage.area", "20 cm2"), set("beds.bed.name", "long bed")))
	p := firstOrder(t, a, 1)
	if p.Why != "" || !p.Whole || p.Drawn != 0 {
		t.Fatalf("%+v", p)
	}
	same, tight, renamed := p.Rows[0], p.Rows[1], p.Rows[2]
	if same.Lowest != (Ends{}) || same.Night != (Ends{}) || same.Own != p.Base || !same.HasNight {
		t.Errorf("the plan beside itself: %+v, its own %+v", same, p.Base)
	}
	if !(tight.Night.Lo < tight.Night.Middle && tight.Night.Middle < tight.Night.Hi) || tight.Night.Middle != a.Rows[1].By.NightK {
		t.Errorf("tighter joints: %+v, compared %+v", tight.Night, a.Rows[1].By)
	}
	if tight.Night.Hi-tight.Night.Lo >= p.Base.Hi-p.Base.Lo {
		t.Errorf("the difference %+v is no surer than the lowest %+v", tight.Night, p.Base)
	}
	if renamed.Why == "" || renamed.Own != (Ends{}) {
		t.Errorf("a bed of another name: %+v", renamed)
	}
	u := perUnitOf(t, UnitRequest{Plan: a.First.Plan, First: a.First, Kinds: []Kind{Unknown}, NoHalves: true})
	if math.Abs(p.Base.Lo-u.Band.Lo.LeafC) > 1e-12 || math.Abs(p.Base.Hi-u.Band.Hi.LeafC) > 1e-12 {
		t.Errorf("the plan's own band %+v, by units %g to %g", p.Base, u.Band.Lo.LeafC, u.Band.Hi.LeafC)
	}
	if again := firstOrder(t, a, 3); !reflect.DeepEqual(p, again) {
		t.Errorf("three at once: %+v, one: %+v", again, p)
	}
}

// With one thing unknown the band is its two moves, each as far as 8 in 10 houses lie; with nothing unknown there is none.
func TestPairsOfOneUnknown(t *testing.T) {
	t.Parallel()
	a := compare(t, request(t, known("leakage"), set("store.rows.drums.drums", "4")))
	p := firstOrder(t, a, 0)
	moved := func(w int) (more, less Measures) {
		answer := a.winterOf(w)
		u := perUnitOf(t, UnitRequest{Plan: answer.Plan, First: answer, Kinds: []Kind{Unknown}, NoHalves: true, Place: a.Place, Nights: a.nights(), Night: a.Night})
		if len(u.Rows) != 1 {
			t.Fatalf("%d things are unknown", len(u.Rows))
		}
		return u.Rows[0].Move()
	}
	pMore, pLess := moved(-1)
	vMore, vLess := moved(0)
	if pMore.LeafC >= 0 || pLess.LeafC <= 0 {
		t.Fatalf("leaking twice as much moves the lowest by %g K, half as much by %g K", pMore.LeafC, pLess.LeafC)
	}
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g, want %g", what, got, want)
		}
	}
	near("lower end of the plan", p.Base.Lo, a.Base.LowestC+eightInTen*pMore.LeafC)
	near("upper end of the plan", p.Base.Hi, a.Base.LowestC+eightInTen*pLess.LeafC)
	d1, d2 := vMore.NightC-pMore.NightC, vLess.NightC-pLess.NightC
	near("lower end of the difference", p.Rows[0].Night.Lo, a.Rows[0].By.NightK+eightInTen*min(0, d1, d2))
	near("upper end of the difference", p.Rows[0].Night.Hi, a.Rows[0].By.NightK+eightInTen*max(0, d1, d2))

	none := compare(t, request(t, known(""), set("leakage.area", "60 cm2")))
	if p := firstOrder(t, none, 0); !strings.Contains(p.Why, "takes all of it as known") || p.Rows[0] != (PairRow{}) {
		t.Errorf("all is known: %+v", p)
	}
	if p, err := Drawn(context.Background(), none, 5, 0, nil); err != nil || !strings.Contains(p.Why, "no house was drawn") {
		t.Errorf("all is known: %+v %v", p, err)
	}
}

// Drawn houses: the plan beside itself differs by exactly nothing in each of them, and how many run at once changes nothing.
func TestDrawnPairs(t *testing.T) {
	t.Parallel()
	a := compare(t, request(t, box, set("leakage.area", "60 cm2"), set("leakage.area", "20 cm2")))
	drawn := func(atOnce int) *Pairs {
		p, err := Drawn(context.Background(), a, 6, atOnce, nil)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	p := drawn(1)
	if p.Drawn != 6 || p.Failed != 0 || p.Rows[0].Lowest != (Ends{}) || p.Rows[0].Night != (Ends{}) || p.Rows[0].Own != p.Base {
		t.Errorf("the plan beside itself: %+v", p)
	}
	if n := p.Rows[1].Night; !p.Rows[1].HasNight || !(n.Lo > 0 && n.Lo < n.Hi) || !(p.Base.Lo < p.Base.Middle && p.Base.Middle < p.Base.Hi) {
		t.Errorf("tighter joints: %+v, the plan %+v", p.Rows[1], p.Base)
	}
	if again := drawn(3); !reflect.DeepEqual(p, again) {
		t.Errorf("three at once: %+v, one: %+v", again, p)
	}
}

// The weeks go round all nights that are asked after.
func TestWeeksRoundNights(t *testing.T) {
	t.Parallel()
	a := compare(t, request(t, box, set("leakage.area", "60 cm2")))
	u := &perUnit{req: UnitRequest{Nights: a.nights()}, a: &UnitAnswer{First: a.First, At: placesOf(a.First)}, whole: a.First.Prepared}
	_, at := a.First.Result.Trace(a.Place).Lowest()
	if first, last := u.nights(); first != last || first != (a.First.Skip+at)/24*24 {
		t.Errorf("the night of the lowest: hours %d and %d, want %d", first, last, (a.First.Skip+at)/24*24)
	}
	u.req.Nights = append(u.req.Nights, a.First.Result.Time(90), a.First.Result.Time(5).AddDate(2, 0, 0))
	if _, last := u.nights(); last != (len(u.whole.Span.Hours)-1)/24*24 {
		t.Errorf("a night beyond the winter: hour %d of %d", last, len(u.whole.Span.Hours))
	}
}
