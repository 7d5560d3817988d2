package validation

import (
	"time"

	"suncellar/internal/weather"
)

// The inputs of the trade checks beside plans/trade_house.yaml. Both were written and committed before the first run and are not
// changed since: see tradeFixed in trade_test.go. Dates are local standard time in the typical year of station 724666, dated by
// its winter, 2001 to 2002; hours are ends of hours.

// tradeSpell is a stretch of made weather that stands in the typical year in place of its own.
type tradeSpell struct {
	month time.Month
	day   int // its first
	spec  weather.SpellSpec
	bare  bool // no snow on the glazing; otherwise the plan's snow lies as it falls
}

// "No sun" is stated: an overcast so thick that a tenth of the sun comes through, all of it diffuse; lowest -20 °C, highest -10 °C each day.
var dullSpell = tradeSpell{month: time.January, day: 5, spec: weather.SpellSpec{
	Days: 12, MeanC: -15, SwingK: 10, Clearness: 0.10, Cloud: 0.9, WindMS: 2, DewPointBelowK: 2, SnowDepthM: 0.10}}

// Two clear, very cold days; the second is judged. At 13 h the air outdoors is -18.5 + 4 cos 30° = -15.0 °C.
var coldClearDays = tradeSpell{month: time.January, day: 20, bare: true, spec: weather.SpellSpec{
	Days: 2, MeanC: -18.5, SwingK: 8, Clearness: 0.70, WindMS: 2, DewPointBelowK: 3}}

// Two clear winter days of usual cold, for the lift of the store; the second is judged, from 11 h to 14 h: the sun is highest at 12:12.
var clearDays = tradeSpell{month: time.January, day: 20, bare: true, spec: weather.SpellSpec{
	Days: 2, MeanC: -2, SwingK: 12, Clearness: 0.70, WindMS: 2, DewPointBelowK: 3}}

const (
	liftFromHour, liftUntilHour = 11, 14
	coldHour                    = 13
)

// What the trade says: common practice, no source.
//
// "Air" is the colder of the house's air layers above the floor (bed air, canopy air); the cold sink is told but not judged. "Bed
// soil" is the colder bed at 10 cm. In a spell both are lowest values within it.
type band struct{ low, high float64 }

var (
	tradeLift       = band{2, 4.5}                           // [K] in three hours
	tradeLitres     = band{120, 200}                         // per m² of glazing
	tradeWinterSoil = band{0.5, 100}                         // lowest of the winter [°C]
	tradeWinterAir  = band{-4, 3}                            // lowest of the winter [°C]
	tradeDullAir    = band{-6, 0}                            // lowest in twelve sunless days [°C]
	tradeDullSoil   = band{-1, 2}                            // lowest in twelve sunless days [°C]
	tradeColdSunny  = band{6, 20}                            // canopy air at 13 h on a sunny day at -15 °C outdoors [°C]
	tradeDrumPounds = struct{ want, apart float64 }{450, 15} // of water in a full 55 US gal drum
)
