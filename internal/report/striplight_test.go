package report

import (
	"math"
	"strings"
	"testing"
)

// The light of the strips as it is told is that of the hours: by month, by quarter, and as the bed's mean.
func TestLightOfStrips(t *testing.T) {
	a := answer(t)
	strips := stripsAsJSON(a)
	if len(strips) != 3 || strips[0].Strip != "glazing side" || strips[2].Bed != "bed" {
		t.Fatalf("%+v", strips)
	}
	bed := 0.0
	for _, m := range a.Result.BedMol {
		bed += m / 14
	}
	mean := 0.0
	for i, s := range strips {
		hours := 0.0
		for _, m := range a.Result.Strips[i].Mol {
			hours += float64(m) / 14
		}
		if math.Abs(s.MeanMolMD-hours) > 1e-3*hours || hours <= 0 {
			t.Errorf("%s: %.4f mol/m² a day, by hours %.4f", s.Strip, s.MeanMolMD, hours)
		}
		if len(s.Months) != 1 || s.Months[0].Days != 14 || s.Months[0].Month[5:] != "12" || math.Abs(s.Months[0].MolM2D-s.MeanMolMD) > 1e-9 {
			t.Errorf("%s: %+v", s.Strip, s.Months)
		}
		mean += s.MeanMolMD / 3
	}
	if math.Abs(mean-bed) > 1e-3*bed {
		t.Errorf("strips have %.4f mol/m² a day on the mean, the bed %.4f", mean, bed)
	}
	text := Teller{}.Winter(a, OfHouse{})
	for _, want := range []string{"Light at the beds, mol/m² a day", "bed, back side", "left and right as seen from inside, looking out, in December."} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("the text does not hold %q", want)
		}
	}
}

func TestDarkestMonth(t *testing.T) {
	month := func(days int, mol float64) stripMonth {
		return stripMonth{days: days, along: [4]float64{mol, mol, mol, mol}}
	}
	strips := [][]stripMonth{{month(31, 5), month(30, 2), month(3, 0.5), month(31, 3)}, {month(31, 5), month(30, 4), month(3, 0.5), month(31, 1)}}
	if got := darkest(strips); got != 3 { // 3 + 1 is less than 2 + 4; three days are no month
		t.Errorf("month %d is the darkest, want 3", got)
	}
}
