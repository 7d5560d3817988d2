package sun

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Summed by the minute: share of the hour with the sun up, and the mean of the
// beam on the level plane if the beam is steady while the sun is up.
func byTheMinute(p Place, end time.Time) (share, cosMean float64) {
	const n = 720
	for i := range n {
		at := At(p, end.Add(-time.Hour+time.Hour*time.Duration(2*i+1)/(2*n)))
		if at.Elevation > 0 {
			share += 1.0 / n
			cosMean += at.Elevation.Sin() / n
		}
	}
	return share, cosMean
}

func TestOverHourAgainstTheMinute(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Place
		end  string
	}{
		{"winter sunrise", place(45, -105, 0), "2024-12-21T08:00:00-07:00"},
		{"winter noon", place(45, -105, 0), "2024-12-21T12:00:00-07:00"},
		{"winter sunset", place(45, -105, 0), "2024-12-21T17:00:00-07:00"},
		{"sunset in the first half", place(39.76, -104.86, 1609), "2015-12-21T17:00:00-07:00"},
		{"southern sunrise", place(-35, 150, 0), "2024-06-21T08:00:00+10:00"},
		{"half-hour zone", place(28.6, 77.2, 0), "2024-01-10T08:00:00+05:30"},
		{"noon of a polar winter", place(66.2, 25, 0), "2024-12-21T12:50:00+02:00"},
	} {
		s := OverHour(c.p, instant(t, c.end))
		share, cosMean := byTheMinute(c.p, instant(t, c.end))
		near(t, c.name+" share", s.UpShare, share, 0.002)
		// The arc of an hour bulges: its middle stands up to 0.0029 above its mean.
		near(t, c.name+" mean cosine", s.UpShare*s.Elevation.Sin(), cosMean, 0.003)
	}
}

func TestNightSpan(t *testing.T) {
	p := place(45, -105, 0)
	end := instant(t, "2024-12-21T02:00:00-07:00")
	s := OverHour(p, end)
	if s.UpShare != 0 || s.Elevation > 0 || s.Position != At(p, end.Add(-30*time.Minute)) {
		t.Errorf("night: got %+v", s)
	}
}

// The shares of the hours of a day sum to the time between the crossings.
func TestSharesSumToTheDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := place(rapid.Float64Range(-60, 60).Draw(t, "lat"), rapid.Float64Range(-180, 180).Draw(t, "lon"), 0)
		day := time.Date(2023, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 364).Draw(t, "day"))
		middle := Day(p, day).Transit
		sum := 0.0
		for h := -12; h < 12; h++ {
			s := Over(p, middle.Add(time.Duration(h)*time.Hour), middle.Add(time.Duration(h+1)*time.Hour))
			if s.UpShare < 0 || s.UpShare > 1 || (s.UpShare > 0 && s.Elevation < 0) {
				t.Fatalf("hour %d: share %v at elevation %v°", h, s.UpShare, s.Elevation.Degrees())
			}
			sum += s.UpShare
		}
		at := Day(p, day).Noon
		half := math.Acos(max(-1, min(1, -p.Latitude.Tan()*at.Declination.Tan())))
		if math.Abs(sum-half/math.Pi*24) > 0.03 {
			t.Fatalf("shares sum to %v h, the half-day arc says %v h", sum, half/math.Pi*24)
		}
	})
}

func TestSpanThatIsTooLongPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("three hours were taken for one span")
		}
	}()
	Over(Place{}, time.Unix(0, 0), time.Unix(3*3600, 0))
}

func BenchmarkOverHour(b *testing.B) {
	p := place(45, -105, 0)
	end := time.Date(2024, 12, 21, 19, 0, 0, 0, time.UTC)
	b.ReportAllocs()
	for b.Loop() {
		OverHour(p, end)
	}
}
