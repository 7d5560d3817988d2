package cli

import (
	"bytes"
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"suncellar/internal/plan"
	"suncellar/internal/report"
	"suncellar/internal/unit"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

type weatherMakeOptions struct {
	out       string
	seed      int
	seedGiven bool // else the plan's counts
	spell     string
	from      string
	mean      string
	sets      []string
}

func (a *app) weatherMake() *cobra.Command {
	var o weatherMakeOptions
	cmd := &cobra.Command{
		Use:   "make PLAN",
		Short: "Make a year of hourly weather from a plan's climate",
		Long: `Make a typical year of hourly weather from the monthly normals of a plan's climate:
by a published generator, the same hours for the same seed. It is no observed weather,
and its cold spells are those of the generator. Written as plain CSV, to standard
output or to the file named by --out; --json tells about it instead.

With --spell a run of that many days under closed cloud is set into the year: as cold
as such a run may be in the coldest month once in some decades, by the generator's own
spread of days and our judgement (docs/weather.md), in the middle of that month.`,
		Example: `  suncellar weather make plan.yaml --out weather.csv
  suncellar weather make plan.yaml --seed 7 --out other.csv
  suncellar weather make plan.yaml --spell 12 --out dull.csv
  suncellar weather make plan.yaml --spell 8 --spell-from 12-20 --spell-mean "-15 degC"`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.seedGiven = cmd.Flags().Changed("seed")
			return a.runWeatherMake(args[0], o)
		},
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.out, "out", "", "file to write; left out: standard output")
	f.IntVar(&o.seed, "seed", 0, "which of the possible years (the plan's run.seed)")
	f.StringVar(&o.spell, "spell", "", "days of a cold dull spell that is set into the year, 1 to 60")
	f.StringVar(&o.from, "spell-from", "", "first day of the spell; left out: it lies in the middle of the coldest month")
	f.StringVar(&o.mean, "spell-mean", "", "mean air of the spell; left out: from the normals")
	setFlag(f, &o.sets, "")
	return cmd
}

func (a *app) runWeatherMake(path string, o weatherMakeOptions) error {
	spell, err := o.request()
	if err != nil {
		return err
	}
	p, findings, err := a.readPlan(path, planOptions{sets: o.sets})
	if err != nil {
		return err
	}
	a.warn(findings)
	if p.Climate == nil {
		return usage("write climate: into the plan", "%s has no climate to make weather from", path)
	}
	if !o.seedGiven {
		o.seed = p.Run.Seed
	}
	if o.seed < 0 {
		return usage("", "--seed is %d, must be 0 to %d", o.seed, math.MaxInt)
	}
	s, err := makeYear(p, uint64(o.seed), spell)
	if err != nil {
		return input(err)
	}
	return a.writeWeather(s, o.out)
}

func makeYear(p *plan.Plan, seed uint64, spell *winter.SpellRequest) (weather.Series, error) {
	if spell == nil {
		return winter.Make(p, seed)
	}
	return winter.MakeWithSpell(p, seed, *spell)
}

// request reads the options of the spell, nil where none is asked for, and tells all that is wrong at once.
func (o *weatherMakeOptions) request() (*winter.SpellRequest, error) {
	switch {
	case o.spell != "":
	case o.from != "" || o.mean != "":
		return nil, usage("--spell 12 asks for twelve days", "--spell-from and --spell-mean say how a spell is, and none is asked for")
	default:
		return nil, nil
	}
	var bad []error
	req := &winter.SpellRequest{}
	days, err := unit.Parse(unit.Count, o.spell)
	if err != nil {
		bad = append(bad, fmt.Errorf("--spell: %w", err))
	} else if req.Days = int(days.SI); req.Days < 1 || req.Days > weather.MostSpellDays {
		bad = append(bad, usage("", "--spell is %s, must be 1 to %d days", o.spell, weather.MostSpellDays))
	}
	req.From, err = parseDay("--spell-from", o.from)
	bad = append(bad, err)
	if o.mean != "" {
		mean, err := unit.Parse(unit.Temperature, o.mean)
		if err != nil {
			bad = append(bad, fmt.Errorf("--spell-mean: %w", err))
		}
		req.MeanC = &mean.SI
	}
	return req, input(errors.Join(bad...))
}

func (a *app) writeWeather(s weather.Series, out string) error {
	if out != "" {
		var b bytes.Buffer
		if err := weather.WritePlain(&b, s); err != nil {
			return err
		}
		if err := writeWhole(out, b.Bytes()); err != nil {
			return err
		}
	}
	switch {
	case a.json:
		return report.WeatherJSON(a.Out, s)
	case out == "":
		return weather.WritePlain(a.Out, s)
	}
	if full, err := weather.Complete(s, s.Place); err == nil {
		s.Hours = full.Hours // what is told is of whole weather, what is noted of what is written
	}
	_, err := fmt.Fprintf(a.Out, "%s\n\nWritten to %s.\n", a.teller(nil).Weather(s), out)
	return err
}
