package validation

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"suncellar/internal/chance"
	"suncellar/internal/ensemble"
	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	records "suncellar/internal/record"
	"suncellar/internal/starter"
	"suncellar/internal/unknown"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// coverageWorld is what made houses stand in: climates, and winters that come true.
type coverageWorld struct {
	climates []starter.Normals
	at       []string // latitude, longitude and elevation of each place
	winters  [][]records.Winter
}

func coverageOf(t *testing.T) *coverageWorld {
	t.Helper()
	w := &coverageWorld{}
	for _, place := range coveragePlaces {
		of := winterRecords[place.record]
		r, err := records.Open(reference(t, filepath.FromSlash(of.file)), records.Options{Place: of.place})
		if err != nil {
			t.Fatal(err)
		}
		climate, err := r.Climate()
		if err != nil {
			t.Fatal(err)
		}
		w.climates = append(w.climates, starter.FromClimate(climate, of.name))
		w.at = append(w.at, fmt.Sprintf("%.3f deg", of.place.LatitudeDeg), fmt.Sprintf("%.3f deg", of.place.LongitudeDeg), fmt.Sprintf("%.0f m", of.place.ElevationM))
		all, err := r.Winters(weather.MonthDay{Month: 12, Day: 1}, weather.MonthDay{Month: 2, Day: 15})
		if err != nil {
			t.Fatal(err)
		}
		blocks, err := all.Blocks(coverageHouses, coverageBlock, blocksSeed)
		if err != nil {
			t.Fatal(err)
		}
		w.winters = append(w.winters, blocks)
	}
	return w
}

// coverageRow is one house: what came true, and the band that was told.
type coverageRow struct {
	house  int
	place  string
	failed int // drawn houses that could not be computed
	truth  [len(coverageFigures)]float64
	band   [len(coverageFigures)]chance.Band
	one    [len(coverageFigures)]float64 // what one run of the plan as it is written tells, in the typical winter of its climate
}

// coverageFigures are the lowests of a winter that bands are told of.
var coverageFigures = [...]struct {
	name string
	kind greenhouse.PlaceKind
}{
	{"lowest leaf", greenhouse.LeafPlace},
	{"lowest air of the room", greenhouse.AirPlace},
	{"lowest bed soil", greenhouse.SoilPlace},
}

func lowestOf(s *ensemble.Summary, kind greenhouse.PlaceKind) float64 {
	low := 1000.0
	for i := range s.Places {
		if s.Places[i].Kind == kind {
			low = min(low, s.Places[i].LowestC)
		}
	}
	return low
}

// run computes house k.
func (w *coverageWorld) run(ctx context.Context, k int) (coverageRow, error) {
	row := coverageRow{house: k}
	p, err := madeHouse(k, w.climates, w.at)
	if err != nil {
		return row, err
	}
	base, err := winter.Prepare(winter.Request{Plan: p})
	if err != nil {
		return row, err
	}
	inputs := unknown.Of(p, base.House)
	truth, err := w.comesTrue(ctx, base, inputs, k, &row)
	if err != nil {
		return row, err
	}
	drawn, err := told(ctx, base, inputs, k)
	if err != nil {
		return row, err
	}
	if row.one, err = oneRun(ctx, base); err != nil {
		return row, err
	}
	for f, figure := range coverageFigures {
		var lows []float64
		row.failed = 0
		for i := range drawn {
			if drawn[i].Err != nil {
				row.failed++
				continue
			}
			lows = append(lows, lowestOf(&drawn[i], figure.kind))
		}
		row.truth[f], row.band[f] = lowestOf(truth, figure.kind), chance.BandOf(lows)
	}
	return row, nil
}

// oneRun is the lowests of the plan as it is written in the typical winter of its climate.
func oneRun(ctx context.Context, base *winter.Prepared) (lows [len(coverageFigures)]float64, err error) {
	r, err := base.Simulate(ctx, greenhouse.SnowFalls, nil)
	if err != nil {
		return lows, err
	}
	for f, figure := range coverageFigures {
		lows[f] = 1000
		for i := range r.Traces {
			if r.Traces[i].Kind == figure.kind {
				lows[f] = min(lows[f], slices.Min(r.Traces[i].C))
			}
		}
	}
	return lows, nil
}

// comesTrue is the house as it truly is, on the full mesh, in the winter that it truly meets.
func (w *coverageWorld) comesTrue(ctx context.Context, base *winter.Prepared, inputs []unknown.Input, k int, row *coverageRow) (*ensemble.Summary, error) {
	place := 0
	for i := range w.climates {
		if base.Plan.Climate.Source == w.climates[i].Source {
			place = i
		}
	}
	row.place = winterRecords[coveragePlaces[place].record].name
	z := unknown.Draw(inputs, rand.New(rand.NewPCG(truthSeed, uint64(k))))
	as := func() (*plan.Plan, error) { return unknown.Apply(base.Plan, inputs, z) }
	full := *base
	full.Earth = greenhouse.FullMesh
	out, err := ensemble.Simulate(ctx, ensemble.Request{Base: &full, Plans: []ensemble.Plan{as}, Winters: oneOf{&w.winters[place][k%coverageHouses]}, AtOnce: 1}, nil)
	if err != nil {
		return nil, err
	}
	return &out[0], out[0].Err
}

// oneOf is a single winter of a record.
type oneOf struct{ w *records.Winter }

func (o oneOf) Len() int                            { return 1 }
func (o oneOf) Name(int) string                     { return o.w.Name }
func (o oneOf) Weather(int) (weather.Series, error) { return o.w.Series() }

// told is what the band is taken from: drawn houses, each in a made winter of its own.
func told(ctx context.Context, base *winter.Prepared, inputs []unknown.Input, k int) ([]ensemble.Summary, error) {
	made, err := chance.Made(base.Plan, coverageDraws)
	if err != nil {
		return nil, err
	}
	random := rand.New(rand.NewPCG(drawnSeed, uint64(k)))
	req := ensemble.Request{Base: base, Winters: made, AtOnce: 1}
	for i := range coverageDraws {
		z := unknown.Draw(inputs, random)
		req.Plans = append(req.Plans, func() (*plan.Plan, error) { return unknown.Apply(base.Plan, inputs, z) })
		req.Runs = append(req.Runs, ensemble.Run{Plan: i, Winter: i})
	}
	return ensemble.Simulate(ctx, req, nil)
}
