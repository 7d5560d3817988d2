package cli

import (
	"github.com/spf13/pflag"

	"suncellar/internal/unknown"
)

// hoursOptions are the weather, the days and the changed values that a command takes a plan with.
type hoursOptions struct {
	year, from, until string
	sets              []string
}

// flags declares them. year is what the file of --year is there for where that is not the winter itself, set what --set changes where that is more than the plan.
func (o *hoursOptions) flags(f *pflag.FlagSet, year, set string) {
	f.StringVar(&o.year, "year", "", either(year, "a year of hourly weather of a kind that docs/weather.md lists"))
	f.StringVar(&o.from, "from", "", "first day that counts, month and day (the plan's run.from)")
	f.StringVar(&o.until, "to", "", "last day (the plan's run.until)")
	setFlag(f, &o.sets, set)
}

// setFlag declares --set.
func setFlag(f *pflag.FlagSet, sets *[]string, text string) {
	f.StringArrayVar(sets, "set", nil, either(text, "change one value of the plan: path=value; may be repeated"))
}

func either(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// bandOptions are about what is not known of the house: the band to first order, told unless it is left out, and drawn houses beside it.
type bandOptions struct {
	noBand bool
	sure   bool
	houses int
}

// flags declares all of them. The way out is there because the band takes several times the work of the answer itself, which is much where many plans are tried.
func (o *bandOptions) flags(f *pflag.FlagSet, minutes string) {
	o.sureFlags(f, minutes)
	f.BoolVar(&o.noBand, "no-band", false, "leave out the band of what is not known to first order, which takes most of the time")
}

// sureFlags declares those of drawn houses alone.
func (o *bandOptions) sureFlags(f *pflag.FlagSet, minutes string) {
	f.BoolVar(&o.sure, "sure", false, "tell the band of what is not known by drawn houses too, each run through the whole winter; "+minutes)
	f.IntVar(&o.houses, "houses", 0, "how many houses --sure draws (60)")
}

// count is how many houses are asked for.
func (o *bandOptions) count() int {
	switch {
	case !o.sure:
		return 0
	case o.houses == 0:
		return unknown.UsualHouses
	}
	return o.houses
}

// fewestHouses is the least number of drawn houses that a band is told of.
const fewestHouses = 5

func (o *bandOptions) check() error {
	switch {
	case o.houses == 0:
		return nil
	case !o.sure:
		return usage("add --sure", "--houses is given, and no house is drawn without --sure")
	case o.houses < fewestHouses || o.houses > mostWinters:
		return usage("sixty are usual", "--houses is %d, must be %d to %d", o.houses, fewestHouses, mostWinters)
	}
	return nil
}
