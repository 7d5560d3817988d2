package cli

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"suncellar/internal/report"
	"suncellar/internal/unit"
	"suncellar/internal/water"
)

type waterOptions struct {
	record, rain, out   string
	draw, on, bed, year string
	years               int
	sets                []string
}

func (a *app) water() *cobra.Command {
	var o waterOptions
	cmd := &cobra.Command{
		Use:   "water PLAN",
		Short: "Tell whether the rain comes into the drums and to the beds by gravity",
		Long: `Follow the water of the plan's water: off each roof into the drums, to the overflow and
to each drip line. Told are the first place that it cannot pass and by how much, what a
pump would take instead, how fast the drums fill and which rain is too much for which
part, what the drippers get with the drums full, half full and nearly empty, and how the
store fares through years of rain: reliability, days without, spill, and what more or
fewer drums would do; what dirt settles and when to let it out, what freezes first in the
winter of the plan, and what there is to do through the year.

The rain is that of a long record, or of years made from the plan's climate. Snow on a
roof counts when it melts.

The same water is the warmth of the house: told too is what rain and use do to the
winter's lowest temperature. --draw and --on tell what water taken on one day would
cost in degrees and in hours without sun, and when the rain would give it back.`,
		Example: `  suncellar water plan.yaml
  suncellar water plan.yaml --record many-years.csv
  suncellar water plan.yaml --draw "300 L" --on 01-15 --bed "front bed"
  suncellar water plan.yaml --rain "60 mm/h" --set "water.overflow.height=0.2 m"`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runWater(cmd.Context(), args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.record, "record", "", "the rain of a long record, daily or hourly, of any kind that docs/weather.md lists")
	f.IntVar(&o.years, "years", 0, "how many years are made where there is no record (30)")
	f.StringVar(&o.rain, "rain", "", `rain that filling is told for (25 mm/h)`)
	f.StringVar(&o.draw, "draw", "", `water taken on one day, such as "300 L"`)
	f.StringVar(&o.on, "on", "", "that day, month and day (the first of the coldest ten days)")
	f.StringVar(&o.bed, "bed", "", "the bed that it goes onto (the largest)")
	f.StringVar(&o.year, "year", "", "a year of hourly weather for the winter, of a kind that docs/weather.md lists")
	setFlag(f, &o.sets, "")
	f.StringVar(&o.out, "out", "", "folder for the answer and its pictures")
	return cmd
}

// The hardest rain that filling is told for [m/s]: 1 m/h.
const hardestRain = 1.0 / 3600

// mostYears is the most that is made at once.
const mostYears = 1000

func (a *app) runWater(ctx context.Context, path string, o waterOptions) error {
	req := water.Request{Years: o.years}
	var err error
	if req.Draw, err = o.drawn(); err != nil {
		return err
	}
	if o.years < 0 || o.years > mostYears {
		return usage("thirty are usual", "--years is %d, must be 1 to %d", o.years, mostYears)
	}
	if o.rain != "" {
		q, err := unit.Parse(unit.Speed, o.rain)
		if err != nil {
			return usage(`write it as "25 mm/h" or "1 in/h"`, "--rain: %v", err)
		}
		if !(q.SI > 0 && q.SI <= hardestRain) {
			return usage("25 mm/h is a hard shower", "--rain is %s, must be above 0 and at most 1000 mm/h", o.rain)
		}
		req.RainMS = q.SI
	}
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets, year: true})
	if err != nil {
		return err
	}
	a.warn(findings)
	req.Plan = p
	if req.Year, err = a.readYear(o.year, p); err != nil {
		return err
	}
	if o.record != "" {
		if req.Record, err = a.openRecord(o.record, p); err != nil {
			return input(err)
		}
	}
	show := a.progress("making years of rain, and the winter")
	answer, err := water.Run(ctx, req, show.at)
	show.close()
	if err != nil {
		return input(err)
	}
	t := a.teller(p)
	pictures, err := t.WaterPictures(answer)
	if err != nil {
		return err
	}
	return a.tellAnswer(o.out, t.Water(answer), pictures, func(w io.Writer) error { return report.WaterJSON(w, answer) })
}

// drawn reads the water that is taken on one day; nil where none is.
func (o *waterOptions) drawn() (*water.Draw, error) {
	if o.draw == "" {
		if o.on != "" || o.bed != "" {
			return nil, usage(`such as --draw "300 L"`, "--on and --bed are of a draw, and --draw is not given")
		}
		return nil, nil
	}
	q, err := unit.Parse(unit.Volume, o.draw)
	if err != nil {
		return nil, usage(`write it as "300 L" or "80 gal"`, "--draw: %v", err)
	}
	if !(q.SI > 0 && q.SI <= mostDrawn) {
		return nil, usage("a can holds 10 L", "--draw is %s, must be above 0 and at most 200 m3", o.draw)
	}
	d := &water.Draw{VolumeM3: q.SI, Bed: o.bed}
	on, err := parseDay("--on", o.on)
	if on != nil {
		d.On = *on
	}
	return d, err
}

// mostDrawn is the most that is taken on one day [m³].
const mostDrawn = 200
