package greenhouse

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"
	"time"

	"suncellar/internal/airflow"
	"suncellar/internal/exact"
	"suncellar/internal/weather"
)

// waveYear is a year whose air is a sine, coldest on day 20, without sun, without evaporation (the air is damper than the ground can be)
// and under a sky as warm as the air: the ground then answers one wave through one film.
func waveYear(place weather.Place, mean, amplitude float64) *weather.Series {
	s := weather.Series{Name: "wave", Place: place, Start: time.Date(2023, 1, 1, 0, 0, 0, 0, time.FixedZone("", -7*3600)), Hours: make([]weather.Hour, 8760)}
	for i := range s.Hours {
		t := mean - amplitude*math.Cos(2*math.Pi/365*(float64(i+1)/24-20))
		s.Hours[i] = weather.Hour{AirC: t, DewPointC: 60, PressurePa: 90000, WindMS: 3, SkyLongwaveWM2: stefan * math.Pow(t+273.15, 4), GroundAlbedo: math.NaN()}
	}
	return &s
}

// Ground that does not freeze under a yearly wave of the air is that of Kusuda and Achenbach 1965, its surface behind the film of
// wind and longwave and the plan's cover, short grass: amplitude and lag of the surface are those of 1/(1 + Y/h), Y = (1+i) k/d.
func TestUndisturbedWaveIsKusudas(t *testing.T) {
	h := mustHouse(t, smallPit)
	year := waveYear(placeOf(h), 12, 9)
	u, err := UndisturbedGround(h.Plan, year)
	if err != nil {
		t.Fatal(err)
	}
	m, err := SoilMedium(h.Plan.Site.Soil)
	if err != nil {
		t.Fatal(err)
	}
	film := 1 / (1/(airflow.Wind(3*siteOf(h.Plan).windShare)+groundEmittance*radiative(12, 12)) + shortGrass.resistance)
	d := exact.Solid{Conductivity: m.K, Density: 1, SpecificHeat: m.C}.DampingDepth(365 * 86400)
	reply := 1 / (1 + complex(1, 1)*complex(m.K/d/film, 0))
	want := exact.Ground{Mean: 12, Amplitude: 9 * cmplx.Abs(reply), ColdestDay: 20 - cmplx.Phase(reply)*365/(2*math.Pi), Diffusivity: m.K / m.C * 86400}
	// 0.1 K: films of longwave differ by 5 % between summer and winter, deep cells may still move by 0.05 K a year
	const allowed = 0.1
	for _, date := range []struct{ month, day, of int }{{1, 20, 19}, {4, 15, 104}, {7, 15, 195}, {10, 1, 273}} {
		profile := u.Profile(date.month, date.day)
		for _, z := range []float64{0.1, 0.3, 1, 2, 4, 8} {
			got, exact := profile(z), want.Temperature(z, float64(date.of)+1.0/24)
			if math.Abs(got-exact) > allowed {
				t.Errorf("%d-%d, %.1f m: %.3f °C, Kusuda %.3f °C", date.month, date.day, z, got, exact)
			}
		}
	}
	periodic(t, u)
}

// periodic holds the search to its own promise.
func periodic(t *testing.T, u *Undisturbed) {
	t.Helper()
	if u.Turns > maxTurns || u.MoveK > stillK {
		t.Errorf("after %d years a cell moves by %.3f K, must be at most %d and %.2f K", u.Turns, u.MoveK, maxTurns, stillK)
	}
	t.Logf("%d years, a cell still moves by %.3f K", u.Turns, u.MoveK)
}

// Frost reaches less deep than Stefan's front, which takes no heat from below, and not much less.
func TestFrostDepthIsUnderStefans(t *testing.T) {
	h := mustHouse(t, smallPit)
	year := waveYear(placeOf(h), 3, 13)
	u, err := UndisturbedGround(h.Plan, year)
	if err != nil {
		t.Fatal(err)
	}
	m, err := SoilMedium(h.Plan.Site.Soil)
	if err != nil {
		t.Fatal(err)
	}
	index := 0.0
	for _, w := range year.Hours {
		index += math.Max(0, -w.AirC) * 3600
	}
	stefan := exact.FrostDepth(exact.Phase{Conductivity: m.KFrozen, HeatCapacity: m.CFrozen}, m.Latent, index)
	deepest := 0.0
	for month := 1; month <= 12; month++ {
		for _, day := range []int{1, 10, 20} {
			profile := u.Profile(month, day)
			for z := 0.0; z < 4; z += 0.02 {
				if profile(z) < soilFrozenC/2 {
					deepest = math.Max(deepest, z)
				}
			}
		}
	}
	if ratio := deepest / stefan; ratio < 0.6 || ratio > 1 {
		t.Errorf("frost reaches %.2f m, Stefan's front %.2f m: ratio %.2f, must be 0.6 to 1", deepest, stefan, ratio)
	} else {
		t.Logf("frost reaches %.2f m, Stefan's front %.2f m: ratio %.2f", deepest, stefan, ratio)
	}
	periodic(t, u)
}

// The other hemisphere, half a year later, has the same ground.
func TestUndisturbedGroundOfTheOtherHemisphere(t *testing.T) {
	north, south := mustHouse(t, smallPit), mustHouse(t, smallPit, "site.latitude=-46 deg")
	a, err := UndisturbedGround(north.Plan, waveYear(placeOf(north), 12, 9))
	if err != nil {
		t.Fatal(err)
	}
	b, err := UndisturbedGround(south.Plan, waveYear(placeOf(south), 12, -9))
	if err != nil {
		t.Fatal(err)
	}
	for _, z := range []float64{0.2, 1, 3} {
		// day 15 and day 197.5 are half a year of 365 days apart; the wave moves by 0.08 K in half a day at the most
		if n, s := a.Profile(1, 15)(z), b.Profile(7, 16)(z); math.Abs(n-s) > 0.1 {
			t.Errorf("%.1f m: %.3f °C in January, %.3f °C in July of the other hemisphere", z, n, s)
		}
	}
}

// The air 5 K colder all year, its dew point and its sky alike, makes every place's lowest 1 to 5 K colder; but water that then begins
// to freeze is held at 0 °C by its ice, and falls by what it stood above that.
func TestColderYear(t *testing.T) {
	h := mustHouse(t, smallPit)
	year := typicalYear(t, h)
	run := func(warmer float64) map[string]float64 {
		y := year.Warmer(warmer)
		u, err := UndisturbedGround(h.Plan, &y)
		if err != nil {
			t.Fatal(err)
		}
		periodic(t, u)
		begin := time.Date(y.Start.Year(), 1, 1, 0, 0, 0, 0, y.Start.Location())
		weeks := y.Between(begin, begin.AddDate(0, 0, 20))
		_, r := mustRun(t, h, Setup{StartC: u.Profile(1, 1)(0.5), Ground: u.Profile(1, 1), Snow: SnowNever}, &weeks)
		return lows(r)
	}
	usual, colder := run(0), run(-5)
	for name, c := range usual {
		least := 1.0
		if water := strings.HasPrefix(name, "drums"); water && colder[name] > waterFrozenC && colder[name] <= 0 {
			least = math.Min(1, c)
		}
		if drop := c - colder[name]; drop < least || drop > 5 {
			t.Errorf("%s: lowest %.2f °C, in the colder year %.2f °C: %.2f K, must be %.2f to 5 K", name, c, colder[name], drop, least)
		}
	}
}
