package greenhouse

import (
	"math"
	"testing"
	"time"

	"suncellar/internal/house"
	"suncellar/internal/thermal"
	"suncellar/internal/weather"
)

// coldWeeks are two weeks of a made January.
func coldWeeks(t testing.TB, h *house.House) *weather.Series {
	t.Helper()
	y := typicalYear(t, h)
	begin := time.Date(y.Start.Year(), 1, 5, 0, 0, 0, 0, y.Start.Location())
	s := y.Between(begin, begin.AddDate(0, 0, 14))
	return &s
}

// apart is how far two runs differ: root of the mean square of the place that differs most [K], faces apart from the rest, and the largest
// difference of any place's lowest [K].
type apart struct {
	rms, faces, low       float64
	rmsAt, facesAt, lowAt string
}

func compared(a, b *Result) apart {
	var d apart
	most := func(v float64, name string, of *float64, at *string) {
		if v > *of {
			*of, *at = v, name
		}
	}
	for i := range a.Traces {
		tr := &a.Traces[i]
		x, y := tr.C, b.Traces[i].C
		sum := 0.0
		for k := range x {
			sum += (x[k] - y[k]) * (x[k] - y[k])
		}
		rms := math.Sqrt(sum / float64(len(x)))
		if tr.Kind == FacePlace {
			most(rms, tr.Name, &d.faces, &d.facesAt)
		} else {
			most(rms, tr.Name, &d.rms, &d.rmsAt)
		}
		low, _ := tr.Lowest()
		other, _ := b.Traces[i].Lowest()
		most(math.Abs(low-other), tr.Name, &d.low, &d.lowAt)
	}
	return d
}

// richPit is the small pit with all that moves by itself.
var richPit = append([]string{"cover.hours=17:00-08:00"}, sinkAndCover...)

// Every step taken in eight parts moves air, leaves, soil and water by at most 0.1 K in the root of the mean square, and no place's lowest by
// more than 0.1 K. Faces hold no heat and leap with the sun at every full hour: their root of the mean square is told, and held to 0.2 K.
func TestStepsAreShortEnough(t *testing.T) {
	h := mustHouse(t, smallPit, richPit...)
	w := coldWeeks(t, h)
	setup := Setup{StartC: 4, Ground: flat(5), Snow: SnowFalls}
	_, usual := mustRun(t, h, setup, w)
	setup.Control = thermal.Control{Finer: 3}
	_, fine := mustRun(t, h, setup, w)
	d := compared(usual, fine)
	t.Logf("an eighth of the step: %.3f K RMS (%s), faces %.3f K (%s), lowest %.3f K (%s); %d and %d steps",
		d.rms, d.rmsAt, d.faces, d.facesAt, d.low, d.lowAt, usual.Work.Steps, fine.Work.Steps)
	if d.rms > 0.1 || d.low > 0.1 || d.faces > 0.2 {
		t.Error("more than is allowed")
	}
}

// Every cell of the ground halved moves no place's lowest by more than 0.1 K. The finest cell is the program's own choice.
func TestMeshIsFineEnough(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	change := append([]string{"ground.reach=5 m"}, richPit...)
	usual := mustHouse(t, smallPit, append(change, "ground.finest_cell=6 cm")...)
	fine := mustHouse(t, smallPit, append(change, "ground.finest_cell=3 cm")...)
	w := coldWeeks(t, usual)
	w.Hours = w.Hours[:8*24]
	setup := Setup{StartC: 4, Ground: flat(5), Snow: SnowFalls}
	_, a := mustRun(t, usual, setup, w)
	_, b := mustRun(t, fine, setup, w)
	d := compared(a, b)
	t.Logf("cells halved: %.3f K RMS (%s), faces %.3f K (%s), lowest %.3f K (%s); %d and %d cells", d.rms, d.rmsAt, d.faces, d.facesAt, d.low, d.lowAt, a.Work.Cells, b.Work.Cells)
	if d.low > 0.1 {
		t.Error("more than 0.1 K")
	}
}
