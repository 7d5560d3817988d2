package cli

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"suncellar/internal/record"
	"suncellar/internal/starter"
	"suncellar/internal/weather"
)

type newOptions struct {
	starter.Answers
	year   string
	record string
	drums  int
}

func (a *app) newPlan() *cobra.Command {
	o := newOptions{Answers: starter.Usual()}
	cmd := &cobra.Command{
		Use:   "new [FILE]",
		Short: "Start a plan of your own from a few answers",
		Long: `Start a plan from a few answers: by options, or on a terminal without any by questions.
The plan is written to FILE (plan.yaml), which must not be there yet, and passes
'suncellar check' as it is; its comments say what to change first.

A climate is needed: --year takes monthly figures and the year's lowest from a weather
file, place and time zone too; --record takes them from many years, daily or hourly; or
give the twelve normals yourself.`,
		Example: `  suncellar new
  suncellar new mine.yaml --record days.csv --time-zone UTC-7
  suncellar new mine.yaml --year tmy.csv --length 30ft --width 14ft --depth 4ft
  suncellar new mine.yaml --year tmy.csv --latitude "46.9 deg" --longitude "-110.7 deg" --elevation "1240 m" --time-zone UTC-7`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage("use: "+useLine(cmd), "new takes one file, got %s", arguments(len(args)))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			path := "plan.yaml"
			if len(args) == 1 {
				path = args[0]
			}
			return a.runNew(path, o, cmd.Flags().NFlag() > 0)
		},
	}
	f := cmd.Flags()
	f.SortFlags = false
	f.StringVar(&o.year, "year", "", "weather file from which the climate is taken")
	f.StringVar(&o.record, "record", "", "long record, daily or hourly, from which the climate is taken")
	f.StringVar(&o.Name, "name", o.Name, "what the house is called")
	f.StringVar(&o.Latitude, "latitude", "", `such as "46.9 deg", north positive (the weather file's)`)
	f.StringVar(&o.Longitude, "longitude", "", `such as "-110.7 deg", east positive (the weather file's)`)
	f.StringVar(&o.Elevation, "elevation", "", `such as "1240 m" (the weather file's)`)
	f.StringVar(&o.TimeZone, "time-zone", "", "UTC-7, or a zone name (the weather file's)")
	f.StringVar(&o.Length, "length", o.Length, "inside, along the house")
	f.StringVar(&o.Width, "width", o.Width, "inside, from front wall to back wall")
	f.StringVar(&o.Depth, "depth", o.Depth, "floor below grade")
	f.StringVar(&o.Glazing, "glazing", o.Glazing, "a glazing of the library")
	f.IntVar(&o.drums, "drums", -1, "drums along the back wall; left out: two tiers along all of it")
	c := &o.Climate
	f.StringVar(&c.MeanLow, "mean-low", "", `twelve values, January first: "-11 degC, -9 degC, ..."`)
	f.StringVar(&c.MeanHigh, "mean-high", "", "twelve mean daily highest temperatures")
	f.StringVar(&c.Sun, "sun", "", `twelve daily sums on level ground: "1.7 kWh/m2d, ..."`)
	f.StringVar(&c.Precipitation, "precipitation", "", `twelve sums: "18 mm, ..."`)
	f.StringVar(&c.WetDays, "wet-days", "", `twelve numbers of days: "8, 7, ..."`)
	f.StringVar(&c.Wind, "wind", "", `twelve mean winds: "3.6 m/s, ..."`)
	f.StringVar(&c.YearLowest, "year-lowest", "", "mean lowest temperature of a year, the hardiness zone's figure")
	return cmd
}

func (a *app) runNew(path string, o newOptions, told bool) error {
	if _, err := os.Lstat(path); err == nil {
		return usage("name another file", "%s is there already, and nothing is overwritten", path)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return plainPath(err)
	}
	o.Drums = o.drums
	if a.units != "" {
		o.Units = strings.ToUpper(a.units)
	}
	if !told && a.InTerminal {
		if err := a.ask(&o); err != nil {
			return err
		}
	}
	if err := a.fromYear(&o); err != nil {
		return err
	}
	if err := a.fromRecord(&o); err != nil {
		return err
	}
	if err := o.lacks(); err != nil {
		return err
	}
	text, err := starter.Write(path, o.Answers)
	if err != nil {
		return input(err)
	}
	if err := writeWhole(path, text); err != nil {
		return err
	}
	year := ""
	if o.year != "" {
		year = " --year " + shellPath(o.year)
	}
	plan := shellPath(path)
	if _, err = fmt.Fprintf(a.Out, "Written to %s. Next:\n  suncellar check %s\n  suncellar simulate %s%s\n", path, plan, plan, year); err == nil && o.record != "" {
		_, err = fmt.Fprintf(a.Out, "  suncellar chance %s --record %s\n", plan, shellPath(o.record))
	}
	return err
}

// fromYear takes climate, and place where it is not given, from the weather file.
func (a *app) fromYear(o *newOptions) error {
	if o.year == "" {
		return nil
	}
	s, err := a.readYear(o.year, nil)
	if err != nil {
		return err
	}
	o.fill(s.Place, s.Start.Location().String())
	if o.Latitude == "" || o.Longitude == "" || o.Elevation == "" {
		return nil // told by lacks
	}
	site, err := starter.Place(o.Answers)
	if err != nil {
		return input(err)
	}
	full, err := weather.Complete(*s, site)
	if err != nil {
		return input(err)
	}
	n, err := starter.FromYear(full)
	if err != nil {
		return input(err)
	}
	o.Climate = n
	return nil
}

// fill takes from a file what of place and zone is not given.
func (o *newOptions) fill(at weather.Place, zone string) {
	take := func(text *string, value string, known bool) {
		if *text == "" && known {
			*text = value
		}
	}
	take(&o.Latitude, fmt.Sprintf("%g deg", at.LatitudeDeg), at.PositionKnown)
	take(&o.Longitude, fmt.Sprintf("%g deg", at.LongitudeDeg), at.PositionKnown)
	take(&o.Elevation, fmt.Sprintf("%g m", at.ElevationM), at.ElevationKnown)
	take(&o.TimeZone, zone, true)
}

// fromRecord takes climate, and place where it is not given, from a long record.
func (a *app) fromRecord(o *newOptions) error {
	switch {
	case o.record == "":
		return nil
	case o.year != "":
		return usage("give one of them", "both --year and --record would give the climate")
	}
	place := recordOptions{latitude: o.Latitude, longitude: o.Longitude, elevation: o.Elevation, timeZone: o.TimeZone}
	options, err := place.read()
	if err != nil {
		return err
	}
	r, err := record.Open(o.record, options)
	if err != nil {
		return plainPath(err)
	}
	o.fill(r.Place, r.Start.Location().String())
	c, err := r.Climate()
	if err != nil {
		return input(err)
	}
	o.Climate = starter.FromClimate(c, r.Name)
	return nil
}

// lacks tells all that is missing at once.
func (o *newOptions) lacks() error {
	var missing []string
	for _, f := range []struct{ flag, value string }{
		{"--latitude", o.Latitude}, {"--longitude", o.Longitude}, {"--elevation", o.Elevation}, {"--time-zone", o.TimeZone},
		{"--mean-low", o.Climate.MeanLow}, {"--mean-high", o.Climate.MeanHigh}, {"--sun", o.Climate.Sun},
		{"--precipitation", o.Climate.Precipitation}, {"--wet-days", o.Climate.WetDays}, {"--wind", o.Climate.Wind},
	} {
		if f.value == "" {
			missing = append(missing, f.flag)
		}
	}
	if len(missing) == 0 {
		if o.Climate.Source == "" {
			o.Climate.Source = "given when the plan was started"
		}
		return nil
	}
	return usage("a weather file gives climate and place at once: --year FILE", "a new plan needs %s", strings.Join(missing, ", "))
}

// ask puts the questions of a new plan; return alone takes what stands in brackets.
func (a *app) ask(o *newOptions) error {
	in := bufio.NewReader(a.In)
	fmt.Fprintln(a.Out, "A few questions; return alone takes what stands in brackets.")
	put := func(question string, text *string) error {
		usual := ""
		if *text != "" {
			usual = " [" + *text + "]"
		}
		fmt.Fprintf(a.Out, "%s%s: ", question, usual)
		line, err := in.ReadString('\n')
		if err != nil && (err != io.EOF || line == "") {
			fmt.Fprintln(a.Out)
			return usage("give the answers by options: 'suncellar new --help'", "the questions were not answered to the end")
		}
		if line = strings.TrimSpace(line); line != "" {
			*text = line
		}
		return nil
	}
	first := []question{{"Name of the house", &o.Name}, {"Weather file of a typical year near you (return: none)", &o.year}}
	if err := all(put, first); err != nil {
		return err
	}
	if err := a.fromYear(o); err != nil {
		return err
	}
	place := []question{{"Latitude, north positive, such as 46.9 deg", &o.Latitude}, {"Longitude, east positive, such as -110.7 deg", &o.Longitude},
		{"Elevation, such as 1240 m", &o.Elevation}, {"Time zone, such as UTC-7", &o.TimeZone}}
	house := []question{{"Length inside", &o.Length}, {"Width inside", &o.Width}, {"Depth of the floor below grade", &o.Depth}, {"Glazing", &o.Glazing}}
	if err := all(put, append(place, house...)); err != nil {
		return err
	}
	if o.year != "" {
		return nil
	}
	c := &o.Climate
	fmt.Fprintln(a.Out, "Twelve monthly figures each, January first, parted by commas, each with its unit:")
	return all(put, []question{{"Mean daily lowest, -11 degC, ...", &c.MeanLow}, {"Mean daily highest", &c.MeanHigh}, {"Sun on level ground, 1.7 kWh/m2d, ...", &c.Sun},
		{"Rain and melted snow, 18 mm, ...", &c.Precipitation}, {"Days with rain or snow, 8, ...", &c.WetDays}, {"Wind, 3.6 m/s, ...", &c.Wind},
		{"Lowest of a usual year, such as -27 degC (return: not known)", &c.YearLowest}})
}

type question struct {
	text   string
	answer *string
}

func all(put func(string, *string) error, list []question) error {
	for _, q := range list {
		if err := put(q.text, q.answer); err != nil {
			return err
		}
	}
	return nil
}
