package cli

import (
	"errors"
	"fmt"
	"math"
	"time"

	"github.com/spf13/cobra"

	"suncellar/internal/record"
	"suncellar/internal/unit"
	"suncellar/internal/weather"
)

func (a *app) weatherConvert() *cobra.Command {
	var o recordOptions
	var out string
	cmd := &cobra.Command{
		Use:   "convert FILE",
		Short: "Make the plain weather CSV of any weather file known",
		Long: `Read a weather file of any kind that docs/weather.md lists, hourly or daily, also
gzipped, and write it as the plain weather CSV: a typical year, a year or many. Hours are
made of days, which keep their lowest, highest and sums. Of a record with gaps too long to
be bridged the longest whole run is written. To standard output, or to the file named by
--out with a summary and notes; --json tells about it instead.

Place and zone are the file's own; the options stand in for what it does not tell.`,
		Example: `  suncellar weather convert tmy.json --out year.csv
  suncellar weather convert days.txt.gz --latitude "40 deg" --longitude "-105.3 deg" --elevation "1670 m" --years 1990-2020 --out hours.csv`,
		Args: exactly(1, "a weather file"),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := a.readRecord(args[0], o)
			if err != nil {
				return err
			}
			return a.writeWeather(s, out)
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "file to write; left out: standard output")
	o.flags(cmd)
	return cmd
}

// recordOptions are what a weather file may leave open.
type recordOptions struct{ latitude, longitude, elevation, timeZone, years string }

func (o *recordOptions) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.latitude, "latitude", "", `such as "46.9 deg", north positive, where the file has none`)
	f.StringVar(&o.longitude, "longitude", "", `such as "-110.7 deg", east positive, where the file has none`)
	f.StringVar(&o.elevation, "elevation", "", `such as "1240 m", where the file has none`)
	f.StringVar(&o.timeZone, "time-zone", "", "UTC-7, of files in UTC and of days; left out: the hour nearest the longitude")
	f.StringVar(&o.years, "years", "", "only these of a record, such as 1990-2020")
}

// read makes the options of the reader, and tells all that is wrong at once.
func (o *recordOptions) read() (record.Options, error) {
	var out record.Options
	var bad []error
	number := func(flag, text string, kind unit.Kind, least, most float64) float64 {
		q, err := unit.Parse(kind, text)
		if err != nil {
			bad = append(bad, fmt.Errorf("%s: %w", flag, err))
		} else if !(q.SI >= least && q.SI <= most) {
			bad = append(bad, usage("", "%s is %s, out of what is possible", flag, text))
		}
		return q.SI
	}
	if (o.latitude == "") != (o.longitude == "") {
		bad = append(bad, usage("", "one of --latitude and --longitude is given, both or none must be"))
	} else if o.latitude != "" {
		out.Place.LatitudeDeg = number("--latitude", o.latitude, unit.Angle, -math.Pi/2, math.Pi/2) * 180 / math.Pi
		out.Place.LongitudeDeg = number("--longitude", o.longitude, unit.Angle, -math.Pi, math.Pi) * 180 / math.Pi
		out.Place.PositionKnown = true
	}
	if o.elevation != "" {
		out.Place.ElevationM, out.Place.ElevationKnown = number("--elevation", o.elevation, unit.Length, -450, 6000), true
	}
	if o.timeZone != "" {
		zone, ok := weather.ParseZone(o.timeZone)
		if !ok {
			bad = append(bad, usage("", "--time-zone is %q, must be like UTC-7 or UTC+5:30", o.timeZone))
		} else {
			_, seconds := time.Now().In(zone).Zone()
			out.UTCOffset, out.ZoneGiven = time.Duration(seconds)*time.Second, true
		}
	}
	return out, input(errors.Join(bad...))
}

// span reads 1990-2020, or one year.
func (o *recordOptions) span() (first, last int, err error) {
	if n, _ := fmt.Sscanf(o.years, "%d-%d", &first, &last); n == 1 {
		last = first
	} else if n != 2 {
		first = 0
	}
	if text := fmt.Sprintf("%d-%d", first, last); first < 1700 || last < first || last > 2200 || (o.years != text && o.years != fmt.Sprint(first)) {
		return 0, 0, usage("", "--years is %q, must be like 1990-2020 or 1999", o.years)
	}
	return first, last, nil
}

// readRecord reads a weather file of any kind as hours: the longest whole run of a record.
func (a *app) readRecord(path string, o recordOptions) (weather.Series, error) {
	options, err := o.read()
	if err != nil {
		return weather.Series{}, err
	}
	r, err := record.Open(path, options)
	if err != nil {
		return weather.Series{}, plainPath(err)
	}
	if o.years != "" {
		first, last, err := o.span()
		if err != nil {
			return weather.Series{}, err
		}
		if r, err = r.Years(first, last); err != nil {
			return weather.Series{}, input(err)
		}
	}
	s, err := r.Longest()
	return s, input(err)
}
