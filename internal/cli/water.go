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
	record, rain, out string
	years             int
	sets              []string
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
fewer drums would do.

The rain is that of a long record, or of years made from the plan's climate. Snow on a
roof counts when it melts.`,
		Example: `  suncellar water plan.yaml
  suncellar water plan.yaml --record many-years.csv
  suncellar water plan.yaml --rain "60 mm/h" --set "water.overflow.height=0.2 m"`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error { return a.runWater(cmd.Context(), args[0], o) },
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.record, "record", "", "the rain of a long record, daily or hourly, of any kind that docs/weather.md lists")
	f.IntVar(&o.years, "years", 0, "how many years are made where there is no record (30)")
	f.StringVar(&o.rain, "rain", "", `rain that filling is told for (25 mm/h)`)
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
	if o.record != "" {
		if req.Record, err = a.openRecord(o.record, p); err != nil {
			return input(err)
		}
	}
	show := a.progress("making years of rain")
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
