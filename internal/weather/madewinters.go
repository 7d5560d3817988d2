package weather

// Lean is what an answer that rests on made winters adds to its band on the cold side, where their validation misses on the mild side.
type Lean struct {
	ColderK    float64 // [K] taken off the mean air of a cold spell
	DullFactor float64 // times the length of a dull run
}

// MadeWinters is the lean of Years: none until they were held against records.
var MadeWinters = Lean{DullFactor: 1}

// Note tells it with every made year.
func (l Lean) Note() Note {
	return Note{Kind: Flagged, What: "all", Hours: hoursOfYear, Text: "made winters are not held against records yet"}
}
