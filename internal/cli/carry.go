package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"suncellar/internal/carry"
	"suncellar/internal/report"
	"suncellar/internal/unit"
)

type carryOptions struct {
	year, from, place, out                                         string
	store, limit, lose, storeShare, bayLost, curve                 string
	outside, swing, clearness, cloud, wind, dewPoint, snowOnGround string
	coverOff                                                       bool
	sets                                                           []string
	bandOptions
}

func (a *app) carry() *cobra.Command {
	var o carryOptions
	cmd := &cobra.Command{
		Use:   "carry PLAN",
		Short: "Tell how long the house lasts without sun",
		Long: `Simulate how long a place lasts above its limit without sun: from the state of the
plan's winter at a sunset, or with all its water at a given temperature, through a
stated sunless spell. The reserve (heat above freezing in the water) is told at sunset.

Beside the time stands between which ends it lies in 8 of 10 houses built like this
one, for what is not known of a house: to first order, with --sure by drawn houses too.

Every condition of the spell is printed and can be set. A limit that is not met in 60
days is told as that. Ice is told apart and is no reserve.

Without --outside a curve follows: how long in other colds, for the full store, for the
share of it asked for, with one bay lost, and with the cover left off. --curve names the
colds, or says 'none'.`,
		Example: `  suncellar carry plan.yaml
  suncellar carry plan.yaml --from 01-10 --outside "-15 degC"
  suncellar carry plan.yaml --store "6 degC" --lose "35 %" --place "front bed, leaf tips, back side" --limit "1 degC"
  suncellar carry plan.yaml --store-share "50 %" --curve "-5 degC, -15 degC, -25 degC, -35 degC" --out lasting`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runCarry(cmd.Context(), args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.from, "from", "", "day at whose sunset the spell begins, month and day (the coldest ten days' first)")
	f.StringVar(&o.store, "store", "", "all water at this temperature at that sunset (as the winter left it)")
	f.StringVar(&o.outside, "outside", "", "mean outdoor air (mean of the winter's coldest three days)")
	f.StringVar(&o.place, "place", "", "place that must not fall below the limit (the plan's, else the first leaf to do so)")
	f.StringVar(&o.limit, "limit", "", "the limit (the plan's run.limit)")
	f.StringVar(&o.lose, "lose", "", `share of the water that is gone, such as "35 %"`)
	f.StringVar(&o.storeShare, "store-share", "", `share of the water that is left, in place of --lose`)
	f.StringVar(&o.bayLost, "bay-lost", "", "a bay, or a row, that stands empty")
	f.BoolVar(&o.coverOff, "cover-off", false, "leave the cover off")
	f.StringVar(&o.curve, "curve", "", "mean outdoor airs of the curve, parted by commas; none for no curve (-5 to -35 °C in steps of 5 K)")
	f.StringVar(&o.swing, "swing", "", `day-night swing, such as "8 K"`)
	f.StringVar(&o.clearness, "clearness", "", "sun left of that above the air, 0 to 80 %; 0 for none at all")
	f.StringVar(&o.cloud, "cloud", "", "share of the sky under cloud")
	f.StringVar(&o.wind, "wind", "", `such as "2 m/s"`)
	f.StringVar(&o.dewPoint, "dew-point-below", "", `how far the dew point lies below the day's lowest, such as "1 K"`)
	f.StringVar(&o.snowOnGround, "snow", "", "snow lying on level ground")
	f.StringVar(&o.year, "year", "", "a year of hourly weather of a kind that docs/weather.md lists")
	setFlag(f, &o.sets, "")
	o.bandOptions.flags(f, "some minutes")
	f.StringVar(&o.out, "out", "", "folder for answer and picture")
	return cmd
}

func (a *app) runCarry(ctx context.Context, path string, o carryOptions) error {
	if err := o.bandOptions.check(); err != nil {
		return err
	}
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: o.year != ""})
	if err != nil {
		return err
	}
	a.warn(findings)
	req, err := o.request()
	if err != nil {
		return err
	}
	req.Plan = p
	req.Band, req.Houses = !o.noBand, o.bandOptions.count()
	if req.Year, err = a.readYear(o.year, p); err != nil {
		return err
	}
	show := a.progress("computing the winter and the sunless spells")
	answer, err := carry.Run(ctx, req, show.at)
	show.close()
	if err != nil {
		return ranAway(err)
	}
	t := a.teller(p)
	pictures, err := t.CarryPictures(answer)
	if err != nil {
		return internal(err)
	}
	return a.tellAnswer(o.out, t.Carry(answer), pictures, func(w io.Writer) error { return report.CarryJSON(w, answer) })
}

// request reads all options, and tells all that is wrong with them at once.
func (o *carryOptions) request() (carry.Request, error) {
	req := carry.Request{Place: o.place}
	var bad []error
	read := func(flag string, kind unit.Kind, text string, to **float64) {
		if text == "" {
			return
		}
		q, err := unit.Parse(kind, text)
		if err != nil {
			bad = append(bad, fmt.Errorf("--%s: %w", flag, err))
			return
		}
		*to = &q.SI
	}
	from, err := parseDay("--from", o.from)
	bad = append(bad, err)
	req.From = from
	var lose *float64
	read("store", unit.Temperature, o.store, &req.StoreC)
	read("limit", unit.Temperature, o.limit, &req.LimitC)
	read("lose", unit.Share, o.lose, &lose)
	s := &req.Spell
	read("outside", unit.Temperature, o.outside, &s.OutsideC)
	read("swing", unit.TemperatureDifference, o.swing, &s.SwingK)
	read("clearness", unit.Share, o.clearness, &s.Clearness)
	read("cloud", unit.Share, o.cloud, &s.Cloud)
	read("wind", unit.Speed, o.wind, &s.WindMS)
	read("dew-point-below", unit.TemperatureDifference, o.dewPoint, &s.DewPointBelowK)
	read("snow", unit.Length, o.snowOnGround, &s.SnowDepthM)
	var left *float64
	read("store-share", unit.Share, o.storeShare, &left)
	switch {
	case lose != nil && left != nil:
		bad = append(bad, errors.New("--store-share: --lose and --store-share are both given\nhint: one is what is gone, the other what is left"))
	case lose != nil:
		req.Lose = *lose
	case left != nil && !(*left >= 0 && *left <= 1):
		bad = append(bad, fmt.Errorf("--store-share is %g, must be 0 to 1", *left))
	case left != nil:
		req.Lose = 1 - *left
	}
	req.BayLost, req.NoCover = o.bayLost, o.coverOff
	curve, err := o.curveRequest()
	bad = append(bad, err)
	req.Curve = curve
	return req, input(errors.Join(bad...))
}

// curveRequest reads the colds of the curve: those named; none; left out: the usual ones, unless one cold was asked for.
func (o *carryOptions) curveRequest() (*carry.CurveRequest, error) {
	switch strings.TrimSpace(o.curve) {
	case "none":
		return nil, nil
	case "":
		if o.outside != "" {
			return nil, nil
		}
		return &carry.CurveRequest{}, nil
	}
	req := &carry.CurveRequest{}
	var bad []error
	for text := range strings.SplitSeq(o.curve, ",") {
		q, err := unit.Parse(unit.Temperature, strings.TrimSpace(text))
		if err != nil {
			bad = append(bad, fmt.Errorf("--curve: %w", err))
			continue
		}
		req.OutsideC = append(req.OutsideC, q.SI)
	}
	return req, errors.Join(bad...)
}
