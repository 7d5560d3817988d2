package chance

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"suncellar/internal/ensemble"
	"suncellar/internal/greenhouse"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

// Houses are drawn houses through one and the same winter: how far the lowests may lie for what is not known, without the first order's straight lines.
type Houses struct {
	Draws  int
	Failed int // left out of the bands
	Places []HousesPlace
	out    []ensemble.Summary // of each house, in the order of the draws
}

// HousesPlace is one place's lowest over the drawn houses.
type HousesPlace struct {
	Name     string
	Kind     greenhouse.PlaceKind
	PlannedC float64
	Band     Band // [°C]
	Inputs   []Input
}

// own is the winter that was computed already, at its own number, by which its snow falls.
type own struct{ *winter.Prepared }

func (o own) Len() int                            { return int(o.Number) + 1 }
func (o own) Name(int) string                     { return "the same winter" }
func (o own) Weather(int) (weather.Series, error) { return o.Year, nil }

// Sure draws houses, 0 for the usual number, and runs each through the winter of an answer. It fails when more than a tenth cannot be computed; nil where
// everything is known.
func Sure(ctx context.Context, first *winter.Answer, draws, atOnce int, progress winter.Progress) (*Houses, error) {
	return (*Houses)(nil).Grow(ctx, first, draws, atOnce, progress)
}

// Grow is Sure with the houses that were run already: only those beyond them are, and the answer is that of Sure. h has to be of the same answer; nil has none.
func (h *Houses) Grow(ctx context.Context, first *winter.Answer, draws, atOnce int, progress winter.Progress) (*Houses, error) {
	in := inputsOf(first.Prepared, Request{Draws: draws})
	if len(in.as) == 0 {
		return nil, nil
	}
	var out []ensemble.Summary
	if h != nil {
		out = h.out[:min(len(h.out), len(in.as))]
	}
	req := ensemble.Request{Base: first.Prepared, Winters: own{first.Prepared}, Plans: in.as, AtOnce: atOnce}
	for i := len(out); i < len(in.as); i++ {
		req.Runs = append(req.Runs, ensemble.Run{Plan: i, Winter: int(first.Number)})
	}
	if len(req.Runs) > 0 {
		more, err := ensemble.Simulate(ctx, req, progress)
		if err != nil {
			return nil, err
		}
		out = append(out[:len(out):len(out)], more...)
	}
	return in.sum(first, out)
}

// sum makes the bands of all houses that were run.
func (in *inputs) sum(first *winter.Answer, out []ensemble.Summary) (*Houses, error) {
	h := &Houses{out: out}
	var z [][]float64
	var err error
	for i := range out {
		if out[i].Err != nil {
			err = out[i].Err
			h.Failed++
			continue
		}
		z = append(z, in.z[i])
	}
	h.Draws = len(z)
	if h.Failed > len(out)/10 {
		return nil, fmt.Errorf("%d of %d drawn houses could not be computed, the last: %w", h.Failed, len(out), err)
	}
	for _, p := range first.Places {
		q := HousesPlace{Name: p.Name, Kind: p.Kind, PlannedC: p.LowestC}
		var lows, off []float64
		for i := range out {
			if out[i].Err == nil {
				c := out[i].Place(p.Name).LowestC
				lows, off = append(lows, c), append(off, c-p.LowestC)
			}
		}
		q.Band = BandOf(lows)
		if v := stat.Variance(off, nil); !math.IsNaN(v) {
			q.Inputs = in.shares(z, off, v)
		}
		h.Places = append(h.Places, q)
	}
	return h, nil
}

// Place finds a place by name, nil when there is none.
func (h *Houses) Place(name string) *HousesPlace {
	for i := range h.Places {
		if h.Places[i].Name == name {
			return &h.Places[i]
		}
	}
	return nil
}
