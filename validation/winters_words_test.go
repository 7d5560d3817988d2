package validation

import (
	"fmt"
	"strings"
)

// winterWords are the inputs of the section in words.
func winterWords() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Normals (the mean lowest of the year among them) and spread are derived from each record by `weather.ClimateOfDays`, %d winters are made of them by `weather.Years` (seed %d), once from the normals alone and once with the "+
		"spread, and counted like the record's from lowest, highest and clearness of each day, 1 October to 30 April. Allowed is twice the sampling error of the record (%d drawings of its winters) and an aim, both stated with places, seeds and counts and "+
		"committed before the first run; nothing was changed after it but how exactly the maker meets its normals (more rounds, secants), by which no figure moved by more than 0.1 K, 0.2 days or half a winter in a hundred and no verdict turned; no constant is fitted to a record. Monthly means, and with the spread the deviations, are inputs: their rows test the maker's sums, the others its weather.\n\n| record | stated |\n| --- | --- |\n",
		madeWinters, winterSeed, resamplings)
	for _, r := range winterRecords {
		fmt.Fprintf(&b, "| %s | %s |\n", r.name, r.facts)
	}
	b.WriteString(`
**What this says.** Depth and length of cold spells, monthly means, and with the record's spread nearly all else come out within what the records can tell apart. From normals alone years differ too much and
frost lasts too long: the cold side. What is missed lies on the cold side throughout; on the mild side nothing is missed, but the records are short, and what they do not exclude there is told with every made year (` + "`weather.MadeWinters`" + `).

**Not validated.** Cold and dull together beyond three days: in 51 winters of two records no run of five dull days below freezing came, in made ones 2 to 4 in 100. Three dull days below 0 °C are judged by 11 winters of a station, which has
them twice as often as what is made, within its error, and by a gridded record that smooths its sun (the last rows), which has them half as often. Climates other than these two, coasts, high mountains and cloudy winters above all; sun at Boulder; wind and snow in
cold spells; trends (Boulder's record warms, and its deviations hold that); extremes rarer than one winter in ten.
`)
	return b.String()
}

// whyWinters is why a figure is missed, where it is.
func whyWinters(prefix, name string) string {
	alone := strings.Contains(prefix, "from normals:")
	switch {
	case strings.Contains(name, "dull days in a row"):
		return "On the cold side, and against a gridded sun that smooths: in the winters that both have, the station 160 km away has runs of three dull days below 0 °C nearly twice as often, and longest runs of 3.9 days for 2.6 (last rows)."
	case strings.Contains(name, "deviation between years") && alone:
		return "On the cold side: how far years differ is not among normals. What the published memory of days carries over a month is taken for it, with deviations already stretched for the lowest of the year; with the record's own spread it is met."
	case strings.Contains(name, "day with the next") && alone, strings.Contains(name, "below 0 °C") && alone:
		return "On the cold side: months that differ too much hold the frost too long; see the deviations between years."
	}
	return "On the cold side: the chain of lows, an average of stations, remembers 0.67 from day to day by itself, and wet days and months add to it; the lows of this dry place remember 0.68 with all of that. Runs of frost nights become a quarter too long."
}
