package cli

import (
	"context"
	"fmt"

	"suncellar/internal/chance"
	"suncellar/internal/report"
	"suncellar/internal/winter"
	"suncellar/internal/worth"
)

// ofHouse computes what is not known of the house beside a winter: to first order, and by drawn houses where they are asked for. What cannot be computed is told in its place; the
// winter itself stands.
func (a *app) ofHouse(ctx context.Context, answer *winter.Answer, o bandOptions) (report.OfHouse, error) {
	if o.noBand {
		of := report.OfHouse{}
		err := a.drawHouses(ctx, answer, o, &of)
		return of, err
	}
	of := report.OfHouse{Why: worth.WhyNoBand(answer)}
	if of.Why == "" {
		show := a.progress("computing what is not known of the house")
		var err error
		of.Order, err = worth.BandOf(ctx, answer, 0, show.at)
		show.close()
		if ctx.Err() != nil {
			return of, ctx.Err()
		}
		if err != nil {
			of.Why = fmt.Sprintf("The house could not be run otherwise: there is no band (%v).", err)
		}
	}
	err := a.drawHouses(ctx, answer, o, &of)
	return of, err
}

// drawHouses adds the band by drawn houses, where it is asked for.
func (a *app) drawHouses(ctx context.Context, answer *winter.Answer, o bandOptions, of *report.OfHouse) error {
	if !o.sure {
		return nil
	}
	if of.WhyNotDrawn = worth.WhyNotDrawn(answer); of.WhyNotDrawn != "" {
		return nil
	}
	show := a.progress("drawing houses")
	defer show.close()
	var err error
	of.Drawn, err = chance.Sure(ctx, answer, o.houses, 0, show.at)
	return ranAway(err)
}

// ofPairs is the same for a comparison.
func (a *app) ofPairs(ctx context.Context, answer *worth.Answer, o bandOptions) (of report.OfPairs, err error) {
	if !o.noBand {
		show := a.progress("computing what is not known of the house")
		of.Order, err = worth.FirstOrder(ctx, answer, 0, show.at)
		show.close()
	}
	if err != nil || !o.sure {
		return of, ranAway(err)
	}
	show := a.progress("drawing houses")
	defer show.close()
	of.Drawn, err = worth.Drawn(ctx, answer, o.houses, 0, show.at)
	return of, ranAway(err)
}
