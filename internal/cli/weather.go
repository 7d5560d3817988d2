package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"suncellar/internal/report"
	"suncellar/internal/weather"
)

func (a *app) weather() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "weather",
		Short: "Look at weather, convert it, or make a year of it",
		Long: `Look at a weather file, convert one of another kind, or make a year of hourly weather
from a plan's climate.`,
		Example: `  suncellar weather show weather.csv
  suncellar weather convert record.csv.gz --out hours.csv
  suncellar weather make plan.yaml --out weather.csv`,
		Args: a.noCommand,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(a.weatherShow(), a.weatherConvert(), a.weatherMake())
	return cmd
}

func (a *app) weatherShow() *cobra.Command {
	var o recordOptions
	cmd := &cobra.Command{
		Use:   "show FILE",
		Short: "Tell what a weather file holds: months, coldest days, dull runs, gaps",
		Long: `Read a weather file of any kind that docs/weather.md lists, hourly or daily, also
gzipped: a year as a simulation would read it, or the longest whole run of a record.
Months or years, the coldest days, the longest dull run, and what was missing, filled,
derived or doubtful.`,
		Example: `  suncellar weather show weather.csv
  suncellar weather show tmy.csv.gz --units US`,
		Args: exactly(1, "a weather file"),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := a.readRecord(args[0], o)
			if err != nil {
				return err
			}
			// a file that does not know its place is shown as it is
			if full, err := weather.Complete(s, s.Place); err == nil {
				s = full
			}
			if a.json {
				return report.WeatherJSON(a.Out, s)
			}
			_, err = fmt.Fprint(a.Out, a.teller(nil).Weather(s))
			return err
		},
	}
	o.flags(cmd)
	return cmd
}
