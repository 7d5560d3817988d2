package water

import (
	"context"
	"fmt"

	"suncellar/internal/greenhouse"
	"suncellar/internal/plan"
	"suncellar/internal/winter"
)

// Ledgers is the water of the simulated winter and its heat: what rain, use and overflow move, and what that does to the lowest temperatures.
type Ledgers struct {
	Winter  *winter.Answer
	Place   string  // the winter's watched place
	LowestC float64 // of it
	StillC  float64 // the same with neither rain nor use

	Kept   bool    // the plan keeps water
	FreeC  float64 // the lowest with nothing kept, where it does
	FreeM3 float64 // what is then used in this winter [m³]

	Rain                     greenhouse.RainAccount
	RainJ, DrawnJ, OverJ     float64 // heat above 0 °C that came, was drawn, went over
	OpenL, HeatOpen          float64 // of the books of the water [L], and of the heat as a share
	Draw                     *DrawAnswer
	WaterBeginM3, WaterEndM3 float64
}

// ledgers runs the winter otherwise.
func (a *Answer) ledgers(ctx context.Context, req Request) error {
	if a.Winter == nil || a.Winter.Watched < 0 || len(a.Scheme.Fed) == 0 {
		return nil
	}
	w := a.Winter
	r := w.Result
	l := &Ledgers{Winter: w, Place: w.Places[w.Watched].Name, LowestC: w.Places[w.Watched].LowestC, Rain: r.Water.Rain, OpenL: r.Water.OpenL, HeatOpen: r.Heat.ImbalanceRel}
	l.RainJ, l.DrawnJ, l.OverJ = r.Heat.InJ["rain into the drums"], r.Heat.OutJ["water drawn for beds"], r.Heat.OutJ["water over the overflow"]
	for _, b := range r.Water.Bays {
		l.WaterBeginM3 += b.StartL / 1000
		l.WaterEndM3 += b.EndL / 1000
	}
	still := *a.Plan
	still.Water = nil
	other, err := a.otherwise(ctx, &still)
	if err != nil {
		return fmt.Errorf("the winter with its water at rest: %w", err)
	}
	l.StillC, _ = other.Trace(l.Place).Lowest()
	if l.Kept = len(a.Plan.Water.Keep) > 0 && a.Plan.Water.Use != nil; l.Kept {
		free, of := *a.Plan, *a.Plan.Water
		of.Keep, free.Water = nil, &of
		if other, err = a.otherwise(ctx, &free); err != nil {
			return fmt.Errorf("the winter with nothing kept: %w", err)
		}
		l.FreeC, _ = other.Trace(l.Place).Lowest()
		l.FreeM3 = other.Water.Rain.UsedM3
	}
	if req.Draw != nil {
		if l.Draw, err = a.draw(ctx, req.Draw); err != nil {
			return err
		}
	}
	a.Ledgers = l
	return nil
}

// otherwise runs the same winter with a changed plan, under the snow that the plan's own run had: when snow slides is a matter of one warm hour, and would
// drown what the water does.
func (a *Answer) otherwise(ctx context.Context, changed *plan.Plan) (*greenhouse.Result, error) {
	if a.snow == nil {
		a.snow = &greenhouse.SnowLog{}
		if _, err := a.Winter.SimulateLogged(ctx, a.Winter.Snow(), a.snow, nil); err != nil {
			return nil, err
		}
	}
	p, err := a.Winter.With(changed)
	if err != nil {
		return nil, err
	}
	return p.SimulateLogged(ctx, greenhouse.SnowLogged, a.snow, nil)
}
