package greenhouse

import (
	"math"
	"testing"
	"time"

	"suncellar/internal/weather"
)

// What a leaf sees above it adds up to the whole half space, whatever is below its level or belongs to the ends.
func TestLeafSeesOne(t *testing.T) {
	h := mustHouse(t, smallPit, sinkAndCover...)
	g, err := New(h, Setup{StartC: 5, Ground: flat(6)})
	if err != nil {
		t.Fatal(err)
	}
	if len(g.room.strips) != 3 {
		t.Fatalf("a bed 1.2 m wide has %d strips", len(g.room.strips))
	}
	for k := range g.room.strips {
		l := g.leafAt(k)
		sum := 0.0
		for _, s := range l.sees {
			if s.s.soil || s.s.sort() == floorSort {
				t.Errorf("strip %d looks up and sees %s", k, s.s.name)
			}
			sum += s.f
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("strip %d sees %.6f", k, sum)
		}
	}
}

// A leaf among faces and air of one temperature has it too, and under a colder glazing alone it is between the two.
func TestLeafTemperature(t *testing.T) {
	h := mustHouse(t, smallPit)
	g, err := New(h, Setup{StartC: 4, Ground: flat(4)})
	if err != nil {
		t.Fatal(err)
	}
	l := g.leafAt(0)
	if c := l.temperature(); math.Abs(c-4) > 1e-4 {
		t.Errorf("%.5f °C among faces at 4 °C", c)
	}
	g.Net.SetTemperature(g.panes[0].room, -6)
	if c := l.temperature(); !(c < 3.5 && c > 0) {
		t.Errorf("%.2f °C in air of 4 °C under glazing at -6 °C", c)
	}
}

// On a clear night the leaf at the glazing's side, under it, is colder than the one at the side of the drums.
func TestLeafByTheGlazingIsColder(t *testing.T) {
	h := mustHouse(t, smallPit, "beds[0].from=0.3 m", "beds[0].to=2.4 m")
	_, r := mustRun(t, h, Setup{StartC: 6, Ground: flat(8)}, spellAt(t, h, weather.SpellSpec{Days: 4, MeanC: -12, WindMS: 2, DewPointBelowK: 6}, time.January, 10))
	front, _ := r.Trace("bed, leaf tips, glazing side").Lowest()
	back, _ := r.Trace("bed, leaf tips, back side").Lowest()
	if !(front < back-0.1) {
		t.Errorf("glazing side %.2f °C, back %.2f °C", front, back)
	}
}
