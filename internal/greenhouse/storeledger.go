package greenhouse

import "math"

// The ledger of the store's water. What a bay holds is read from the laws of its layers, what came and went is summed where it moves, so a
// forgotten or doubled move shows.

// WaterAccount is the water of the store over a run [L], a litre being 0.9997 kg, ice with it.
type WaterAccount struct {
	Bays  []BayWater
	Rain  RainAccount
	OpenL float64 // the worst of |in - out - stored| of any bay
}

// BayWater is the water of one bay [L].
type BayWater struct {
	Name         string
	StartL, EndL float64
	FullL        float64 // to the brim
	LevelM       float64 // of the water at the end, above the bottom of the drums [m]
	InL, OutL    map[string]float64
	ShortL       float64 // wanted and not there, or without room
}

// StoredL is how much more there is at the end [L].
func (b BayWater) StoredL() float64 { return b.EndL - b.StartL }

// Moved tells whether any water came or went.
func (a WaterAccount) Moved() bool {
	for _, b := range a.Bays {
		if len(b.InL)+len(b.OutL) > 0 || b.ShortL > 0 {
			return true
		}
	}
	return false
}

// waterBooks are a bay's books [kg]; short [m³].
type waterBooks struct {
	startKg float64
	in, out map[string]float64
	short   float64
}

func (w *waterBooks) came(cause string, kg float64) { w.in[cause] += kg }
func (w *waterBooks) gone(cause string, kg float64) { w.out[cause] += kg }

// restart begins the account anew at the present state.
func (s *store) restart() {
	for _, b := range s.bays {
		b.books = waterBooks{startKg: b.mass(s.g.Net), in: map[string]float64{}, out: map[string]float64{}}
	}
	if s.rain != nil {
		s.rain.books = RainAccount{}
	}
}

func (s *store) account() WaterAccount {
	const litre = 1000 / waterDensity // [L/kg]
	var a WaterAccount
	for _, b := range s.bays {
		kg := b.mass(s.g.Net)
		w := BayWater{Name: b.name, StartL: b.books.startKg * litre, EndL: kg * litre, FullL: b.full * 1000, LevelM: b.layers[waterLayers-1].high,
			InL: map[string]float64{}, OutL: map[string]float64{}, ShortL: math.Max(0, b.books.short*1000)}
		if w.ShortL < 1e-6 {
			w.ShortL = 0
		}
		open := w.StartL - w.EndL
		for _, books := range []struct {
			from, to map[string]float64
			sign     float64
		}{{b.books.in, w.InL, 1}, {b.books.out, w.OutL, -1}} {
			for cause, moved := range books.from {
				books.to[cause] = moved * litre
				open += books.sign * moved * litre
			}
		}
		a.OpenL = math.Max(a.OpenL, math.Abs(open))
		a.Bays = append(a.Bays, w)
	}
	if s.rain != nil {
		a.Rain = s.rain.account()
	}
	return a
}
