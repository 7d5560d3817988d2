package validation

import "suncellar/internal/weather"

// What made winters are held against, and how near they are to come: stated before the first run against any of the three records.

// winterRecord is one long record.
type winterRecord struct {
	name, file string
	facts      string
	place      weather.Place // for what the file does not tell
	air, sun   bool          // which figures are taken of it
}

var winterRecords = []winterRecord{
	{"Boulder", "daily/boulderdaily.complete.txt.gz", "Colorado, 1897 to 2022, lowest, highest and precipitation; station near 40.03 N 105.28 W, 1650 m, from memory; without sun, clearness is taken from the days' range of temperature",
		weather.KnownPlace(40.03, -105.28, 1650), true, false},
	{"Johnson", "daily/gridmet_Johnson_Kansas_daily.csv.gz", "Kansas, 1980 to 2020, gridded: lowest, highest, precipitation, sun, wind; elevation 300 m, from memory",
		weather.KnownPlace(38.88, -94.82, 300), true, true},
	{"Manhattan", "soil/CRND0103_KS_Manhattan_6_SSW_2003-2017.csv.gz", "Kansas, 2003 to 2017, station: lowest, highest, precipitation, sun; elevation 345 m, from memory; one climate with Johnson, 160 km apart",
		weather.KnownPlace(39.10, -96.61, 345), false, true},
}

// What is counted, and how.
const (
	madeWinters   = 200  // years made for each climate, numbers 0 to 199
	winterSeed    = 1    // of the years
	resamplings   = 1000 // of the record's winters, with replacement, for its sampling error
	resampleSeed  = 2026
	dullLimit     = 0.25 // a day is dull below this clearness
	longestBridge = 3    // days without lowest or highest that are bridged by a straight line; a winter with more is left out
	mostDarkGaps  = 10   // days without sun of a winter whose dull runs still count; a day without sun is not dull
)

// aim is how near the made figure is to come beside twice the sampling error of the record's: the larger of a size and a share of the record's figure. Own judgement: what would
// not change an answer about a house.
type aim struct {
	size, share float64
}

var (
	aimMean        = aim{size: 0.3}              // [K] of a month
	aimSpread      = aim{share: 0.15}            // of the deviation of a month's mean between years
	aimLag         = aim{size: 0.05}             // of a correlation from day to day
	aimTogether    = aim{size: 0.10}             // of a correlation of two quantities
	aimRun         = aim{size: 0.3, share: 0.15} // [d] of the mean length of runs
	aimLongest     = aim{size: 1, share: 0.15}   // [d] of the longest run of a winter
	aimColdest     = aim{size: 1}                // [K] of the mean over winters of the lowest mean of some days
	aimColdestRare = aim{size: 1.5}              // [K] of what one winter in ten goes below
	aimDull        = aim{size: 0.5, share: 0.20} // [d] of the longest dull run of a winter
	aimDullRare    = aim{size: 1, share: 0.20}   // [d] of what one winter in ten goes beyond
	aimJoint       = aim{size: 5}                // winters in a hundred
)

// jointEvents are runs of sunless days with their mean air below a limit [°C].
var jointEvents = []struct {
	days   int
	belowC float64
}{{3, 0}, {3, -5}, {5, 0}, {5, -5}}
