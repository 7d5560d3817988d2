package greenhouse

import (
	"testing"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/weather"
)

// leanTo is the small pit as a lean-to on grade, with a lined floor.
var leanTo = []string{"shape.kind=lean-to", "shape.glazing_slope=none", "shape.back_roof=none", "shape.back_roof_slope=none", "shape.depth=0.5 m", "shape.back_height=2.2 m", "shape.floor=roof"}

// sinkAndCover add a cold sink and a night cover to the small pit.
var sinkAndCover = []string{"cold_sink.from=1.7 m", "cold_sink.to=2.1 m", "cold_sink.depth=30 cm", "cover.r_value=0.5 m2K/W"}

// warmed is heat in the box, which holds next to none: without it the sky draws the room below outdoor air within a day.
var warmed = []string{"heat[0].power=300 W"}

// lawPlans are the houses that the laws are held on.
func lawPlans() []struct {
	name, text string
	with       []string
} {
	return []struct {
		name, text string
		with       []string
	}{
		{"pit", smallPit, nil}, {"pit with sink and cover", smallPit, sinkAndCover}, {"lean-to", smallPit, leanTo}, {"box on stilts", litBox, warmed},
	}
}

// settledLows are the lowest temperatures after days of steady cold without sun, outdoors colder than every part of the house from
// its beginning on.
func settledLows(t *testing.T, h *house.House) map[string]float64 {
	t.Helper()
	_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever}, spellAt(t, h, cold(12, -15), time.January, 10))
	m := lows(r)
	for name, c := range m {
		if c < -15 {
			t.Fatalf("%s is %.2f °C: colder than outdoors, where less loss may well be colder", name, c)
		}
	}
	return m
}

// notColder reports every place of better that is colder than in base.
func notColder(t *testing.T, what string, base, better map[string]float64, slackK float64) {
	t.Helper()
	for name, c := range base {
		if b, ok := better[name]; ok && b < c-slackK {
			t.Errorf("%s: %s is %.4f °C, %.4f K colder than without", what, name, b, c-b)
		}
	}
}

// slackK is what the error of the steps may do to a law of sign [K].
const slackK = 0.01

// In steady cold without sun, more board on a face to outdoor air, less leakage or a better glazing never lowers any place's lowest.
func TestLessLossIsNeverColder(t *testing.T) {
	for _, p := range lawPlans() {
		t.Run(p.name, func(t *testing.T) {
			base := settledLows(t, mustHouse(t, p.text, p.with...))
			changes := map[string]string{"thicker ends": "builds.end wall.layers[1].thickness=160 mm", "tighter": "leakage.area=40 cm2"}
			switch p.text {
			case litBox:
				changes = map[string]string{"thicker walls": "builds.wall.layers[1].thickness=160 mm", "tighter": "leakage.air_changes=0.1 ach"}
			default:
				changes["better frame"] = "frame.u_value=1 W/m2K"
				if p.name != "lean-to" {
					changes["thicker roof"] = "builds.roof.layers[1].thickness=250 mm"
				}
			}
			for what, c := range changes {
				better := settledLows(t, mustHouse(t, p.text, append(append([]string{}, p.with...), c)...))
				notColder(t, what, base, better, slackK)
			}
		})
	}
}

// A cover that is always drawn is never colder at any place in steady cold, inside or outside.
func TestCoverIsNeverColder(t *testing.T) {
	base := settledLows(t, mustHouse(t, smallPit))
	for _, side := range []string{"inside", "outside"} {
		h := mustHouse(t, smallPit, "cover.r_value=0.5 m2K/W", "cover.side="+side, "cover.hours=always")
		covered := settledLows(t, h)
		delete(base, "glazing, inner face") // the face of an inner cover is another thing
		notColder(t, "cover "+side, base, covered, slackK)
		if covered["canopy air"] < base["canopy air"]+0.3 {
			t.Errorf("cover %s: canopy air %.2f °C, without it %.2f °C: it does nothing", side, covered["canopy air"], base["canopy air"])
		}
	}
}

// bright is weather of clear days.
func bright(days int, meanC float64) weather.SpellSpec {
	return weather.SpellSpec{Days: days, MeanC: meanC, SwingK: 10, Clearness: 0.6, Cloud: 0.2, WindMS: 2.5, DewPointBelowK: 3}
}

// Without the sun no place's highest of any day is higher.
func TestSunOutIsNeverWarmer(t *testing.T) {
	for _, p := range lawPlans() {
		t.Run(p.name, func(t *testing.T) {
			h := mustHouse(t, p.text, p.with...)
			w := spellAt(t, h, bright(6, -5), time.February, 20)
			_, lit := mustRun(t, h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever}, w)
			_, dark := mustRun(t, h, Setup{StartC: 6, Ground: flat(6), Snow: SnowNever, NoSun: true}, w)
			for i := range lit.Traces {
				for d := range lit.Hours() / 24 {
					a, b := dayHighest(lit.Traces[i].C, d), dayHighest(dark.Traces[i].C, d)
					if b > a+slackK {
						t.Errorf("%s, day %d: %.3f °C without sun, %.3f °C with it", lit.Traces[i].Name, d, b, a)
					}
				}
			}
			if dark.Heat.InJ["sun into the room"] != 0 || lit.Heat.InJ["sun into the room"] == 0 {
				t.Error("the sun is not what differs")
			}
		})
	}
}

func dayHighest(c []float64, day int) float64 {
	m := c[day*24]
	for _, v := range c[day*24 : day*24+24] {
		m = max(m, v)
	}
	return m
}

// Darker drums hold more after sunny days.
func TestDarkerDrumsStoreMore(t *testing.T) {
	var store []float64
	for _, colour := range []string{"white", "grey", "black"} {
		h := mustHouse(t, smallPit, "store.rows[0].colour="+colour)
		g, _ := mustRun(t, h, Setup{StartC: 8, Ground: flat(8), Snow: SnowNever}, spellAt(t, h, bright(5, -2), time.February, 20))
		c, _ := g.StoreC()
		store = append(store, c)
	}
	if !(store[0] < store[1] && store[1] < store[2]) {
		t.Errorf("white, grey, black: %.3f °C", store)
	}
}

// Drums that begin at 8 °C in a house that cools from 6 °C keep every place warmer than the same house without water.
func TestWaterKeepsWarm(t *testing.T) {
	with := settledLows(t, mustHouse(t, smallPit, "store.rows[0].start=8 degC"))
	without := settledLows(t, mustHouse(t, smallPit, "store.rows[0].drums=0", "store.rows[0].bays=1"))
	notColder(t, "with drums", without, with, slackK)
	if gain := with["bed, leaf tips, middle"] - without["bed, leaf tips, middle"]; gain < 0.2 {
		t.Errorf("leaf tips gain %.2f K from %d drums", gain, 8)
	}
}
