package report

import (
	"strings"
	"testing"

	"suncellar/internal/drawing"
	"suncellar/internal/sunhours"
	"suncellar/internal/unit"
)

func TestSunAt(t *testing.T) {
	h := exampleHouse(t)
	month, day := ShortestDay(h)
	d, err := sunhours.On(h, 12, 21)
	if err != nil || month != 12 || day != 21 {
		t.Fatal(err, month, day)
	}
	for _, row := range []struct {
		x, z  float64
		wants []string
	}{
		{0.7, -1, []string{"No direct sun on 21 December here: front bed, on the soil, ", " from the glazing, in the middle of the house."}}, // the front wall is in the way
		{2.7, 1, []string{"2.10 m above the floor"}},
		{4.25, 0, []string{"hours of direct sun on 21 December here: front of the back drums, 1.10 m above the floor, ", ", in the middle of the house, ", " to ", "Near the left end", "near the right end"}},
	} {
		p, err := d.Take(row.x, row.z)
		if err != nil {
			t.Fatal(err)
		}
		said := Teller{}.SunAt(h, d, p)
		for _, want := range row.wants {
			if !strings.Contains(said, want) {
				t.Errorf("%q is not in %q", want, said)
			}
		}
	}
	p, err := d.Middle()
	if err != nil {
		t.Fatal(err)
	}
	if said := (Teller{System: unit.US}).SunAt(h, d, p); !strings.Contains(said, " ft ") || strings.Contains(said, " m ") {
		t.Error(said)
	}
	picture := Teller{}.SunHours(h, d, p)
	if len(picture.Rows) != 3+len(h.Beds) {
		t.Errorf("%d rows", len(picture.Rows))
	}
	if _, err := drawing.DrawSunHours(picture, drawing.Frame{Width: 360}); err != nil {
		t.Error(err)
	}
}

func TestSunTimes(t *testing.T) {
	day := func(spans ...[2]int) []float64 {
		share := make([]float64, 24)
		for _, s := range spans {
			for k := s[0]; k < s[1]; k++ {
				share[k] = 1
			}
		}
		return share
	}
	for want, share := range map[string][]float64{
		"":                                      day(),
		"09:00 to 12:00":                        day([2]int{9, 12}),
		"00:00 to 24:00":                        day([2]int{0, 24}),
		"09:00 to 12:00, 13:00 to 14:00":        day([2]int{9, 12}, [2]int{13, 14}),
		"with 3 breaks between 06:00 and 20:00": day([2]int{6, 7}, [2]int{9, 12}, [2]int{13, 14}, [2]int{18, 20}),
	} {
		if got := sunTimes(share); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
