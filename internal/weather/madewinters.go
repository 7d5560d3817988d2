package weather

import "fmt"

// Lean is what an answer that rests on made winters adds to its band on the cold side, for what their validation does not exclude there.
type Lean struct {
	ColderK     float64 // [K] taken off the mean air of a cold spell of 3 to 10 days, above all of one in ten winters
	DullFactor  float64 // times the length of the longest run of dull days
	OftenFactor float64 // times how many winters hold a run of days that are dull and below freezing together
}

// MadeWinters is the lean of Years. Each figure is the largest by which made winters of three places came out milder, shorter or rarer than the record, whether or not the row
// counts as missed, and one sampling error of the record beside it, rounded up: docs/validation.md, "Made winters"; a test there holds it to its rows. It says nothing of
// other climates, of wind or snow in the cold, nor of runs of five dull days below freezing, which no record at hand holds.
var MadeWinters = Lean{ColderK: 2.5, DullFactor: 1.4, OftenFactor: 3}

// Note tells the lean with every made year.
func (l Lean) Note() Note {
	return Note{Kind: Flagged, What: "all", Hours: hoursOfYear, Text: fmt.Sprintf("an answer that rests on made winters leans %.1f K to the cold, takes dull runs %.1f times as long and cold dull runs %.1f times as often: "+
		"their validation does not exclude so much", l.ColderK, l.DullFactor, l.OftenFactor)}
}
