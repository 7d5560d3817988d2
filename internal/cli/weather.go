package cli

import (
	"bytes"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"suncellar/internal/report"
	"suncellar/internal/weather"
	"suncellar/internal/winter"
)

func (a *app) weather() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "weather",
		Short: "Look at weather, or make a year of it",
		Long:  "Look at a weather file, or make a year of hourly weather from a plan's climate.",
		Example: `  suncellar weather show weather.csv
  suncellar weather make plan.yaml --out weather.csv`,
		Args: a.noCommand,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(a.weatherShow(), a.weatherMake())
	return cmd
}

func (a *app) weatherShow() *cobra.Command {
	return &cobra.Command{
		Use:   "show FILE",
		Short: "Tell what a weather file holds: months, coldest days, dull runs, gaps",
		Long: `Read a weather file as a simulation would: TMY3 CSV, PVGIS typical year CSV or the
plain CSV of docs/weather.md, also gzipped. Months, the coldest days, the longest dull
run, and what was missing, filled, derived or doubtful.`,
		Example: `  suncellar weather show weather.csv
  suncellar weather show tmy.csv.gz --units US`,
		Args: exactly(1, "a weather file"),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := a.readYear(args[0], nil)
			if err != nil {
				return err
			}
			// a file that does not know its place is shown as it is
			if full, err := weather.Complete(*s, s.Place); err == nil {
				s = &full
			}
			if a.json {
				return report.WeatherJSON(a.Out, *s)
			}
			_, err = fmt.Fprint(a.Out, a.teller(nil).Weather(*s))
			return err
		},
	}
}

func (a *app) weatherMake() *cobra.Command {
	var out string
	var seed int
	var sets []string
	cmd := &cobra.Command{
		Use:   "make PLAN",
		Short: "Make a year of hourly weather from a plan's climate",
		Long: `Make a typical year of hourly weather from the monthly normals of a plan's climate:
by a published generator, the same hours for the same seed. It is no observed weather,
and its cold spells are those of the generator. Written as plain CSV, to standard
output or to the file named by --out; --json tells about it instead.`,
		Example: `  suncellar weather make plan.yaml --out weather.csv
  suncellar weather make plan.yaml --seed 7 --out other.csv`,
		Args: exactly(1, "a plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			p, findings, err := a.readPlan(args[0], planOptions{sets: sets})
			if err != nil {
				return err
			}
			a.warn(findings)
			if p.Climate == nil {
				return usage("write climate: into the plan", "%s has no climate to make weather from", args[0])
			}
			if !cmd.Flags().Changed("seed") {
				seed = p.Run.Seed
			}
			if seed < 0 {
				return usage("", "--seed is %d, must be 0 to %d", seed, math.MaxInt)
			}
			s, err := winter.Make(p, uint64(seed))
			if err != nil {
				return input(err)
			}
			return a.writeWeather(s, out)
		},
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&out, "out", "", "file to write; left out: standard output")
	f.IntVar(&seed, "seed", 0, "which of the possible years (the plan's run.seed)")
	f.StringArrayVar(&sets, "set", nil, "change one value of the plan: path=value; may be repeated")
	return cmd
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
	_, err := fmt.Fprintf(a.Out, "%s\n\nWritten to %s.\n", a.teller(nil).Weather(s), out)
	return err
}
