package weather

import (
	"fmt"
	"math"
	"slices"
	"time"
)

// Series is hourly weather at one place. Hour i covers (Start+i h, Start+(i+1) h].
type Series struct {
	Name  string
	Place Place
	// Start is the instant at which the first hour begins, in a zone of fixed offset
	// from UTC (local standard time: no summer time).
	Start time.Time
	Hours []Hour
	// Notes tells what was missing, filled, derived, flagged or made, in the order done.
	Notes []Note
	// TypicalYear is true when the months come from different years (a typical
	// meteorological year) or from a maker; the dates are then nominal.
	TypicalYear bool
}

// Hour is one hour of weather. An unknown value is NaN.
type Hour struct {
	AirC           float64 // dry-bulb temperature at the end of the hour [°C]
	DewPointC      float64 // dew point at the end of the hour [°C]
	PressurePa     float64 // air pressure at the end of the hour [Pa]
	WindMS         float64 // wind speed at the end of the hour [m/s]
	GlobalWM2      float64 // global sun on level ground, mean of the hour [W/m2]
	BeamWM2        float64 // beam on a plane facing the sun, mean of the hour [W/m2]
	DiffuseWM2     float64 // diffuse sun on level ground, mean of the hour [W/m2]
	SkyLongwaveWM2 float64 // longwave from the sky on level ground, mean of the hour [W/m2]
	CloudShare     float64 // share of the sky under cloud, mean of the hour, 0 to 1
	RainMM         float64 // precipitation of the hour as liquid [mm]
	SnowfallM      float64 // fresh snow fallen in the hour, depth as it falls [m]
	SnowDepthM     float64 // snow lying on level ground at the end of the hour [m]
	// SnowDensityKgM3 is that of the snow lying at the end of the hour; unknown or 0 where none lies.
	SnowDensityKgM3 float64
	GroundAlbedo    float64 // shortwave reflectance of level ground, mean of the hour, 0 to 1
}

// Place is where a series belongs to. The flags tell what is known.
type Place struct {
	LatitudeDeg    float64 // north positive [°]
	LongitudeDeg   float64 // east positive [°]
	ElevationM     float64 // above sea level [m]
	PositionKnown  bool    // latitude and longitude are known
	ElevationKnown bool
}

// KnownPlace is a place of which all is known: latitude and longitude [°, north and
// east positive], elevation [m].
func KnownPlace(latitudeDeg, longitudeDeg, elevationM float64) Place {
	return Place{latitudeDeg, longitudeDeg, elevationM, true, true}
}

// filledFrom returns p with what it lacks taken from other.
func (p Place) filledFrom(other Place) Place {
	if !p.PositionKnown && other.PositionKnown {
		p.LatitudeDeg, p.LongitudeDeg, p.PositionKnown = other.LatitudeDeg, other.LongitudeDeg, true
	}
	if !p.ElevationKnown && other.ElevationKnown {
		p.ElevationM, p.ElevationKnown = other.ElevationM, true
	}
	return p
}

// NoteKind says what happened to the values a Note speaks of.
type NoteKind string

// The kinds of notes.
const (
	Missing NoteKind = "missing" // the source has no such values
	Filled  NoteKind = "filled"  // a short gap was bridged
	Derived NoteKind = "derived" // computed from other values by the method told
	Assumed NoteKind = "assumed" // a stated default stands in
	Flagged NoteKind = "flagged" // kept or corrected, but doubtful
	Dated   NoteKind = "dated"   // the calendar was changed
	Made    NoteKind = "made"    // made by a generator, not observed
	Changed NoteKind = "changed" // shifted, scaled or replaced on request
)

// Note tells one thing that was done to a series.
type Note struct {
	Kind  NoteKind
	What  string    // the quantity, in words
	From  time.Time // start of the first hour concerned; zero when it concerns the whole
	Hours int       // how many hours are concerned
	Text  string
}

// String is the note as one line.
func (n Note) String() string {
	where := ""
	if !n.From.IsZero() {
		where = " from " + n.From.Format("2006-01-02 15:04")
	}
	return fmt.Sprintf("%s %s, %d h%s: %s", n.Kind, n.What, n.Hours, where, n.Text)
}

// unknownHour is an hour of which nothing is known.
func unknownHour() Hour {
	var h Hour
	for q := range quantities {
		*h.value(q) = math.NaN()
	}
	return h
}

// emptySeries returns n hours of which nothing is known.
func emptySeries(start time.Time, n int) Series {
	s := Series{Start: start, Hours: make([]Hour, n)}
	for i := range s.Hours {
		s.Hours[i] = unknownHour()
	}
	return s
}

// Zone returns the fixed zone at the offset from UTC, named "UTC-7" or "UTC+5:30".
func Zone(offset time.Duration) *time.Location {
	minutes := int(offset / time.Minute)
	sign := '+'
	if minutes < 0 {
		sign, minutes = '-', -minutes
	}
	name := fmt.Sprintf("UTC%c%d", sign, minutes/60)
	if minutes%60 != 0 {
		name += fmt.Sprintf(":%02d", minutes%60)
	}
	return time.FixedZone(name, int(offset/time.Second))
}

// End returns the instant at which the last hour ends.
func (s Series) End() time.Time { return s.HourStart(len(s.Hours)) }

// HourStart returns the instant at which hour i begins.
func (s Series) HourStart(i int) time.Time {
	return s.Start.Add(time.Duration(i) * time.Hour)
}

// At returns hour i, 0 to len(Hours)-1.
func (s Series) At(i int) Hour { return s.Hours[i] }

// Index returns the hour that covers the instant t: the i with
// Start+i h < t <= Start+(i+1) h. The instant Start itself belongs to hour 0. False when
// t lies outside the series.
func (s Series) Index(t time.Time) (int, bool) {
	if t.Before(s.Start) || t.After(s.End()) || len(s.Hours) == 0 {
		return 0, false
	}
	since := t.Sub(s.Start)
	i := int(since / time.Hour)
	if since%time.Hour == 0 && i > 0 {
		i--
	}
	return i, true
}

// Instant returns the weather at the instant t: air, dew point, pressure, wind and snow
// depth linear between the ends of the hours around t (before the first end they are held),
// the means and sums those of the hour that covers t. False when t lies outside.
func (s Series) Instant(t time.Time) (Hour, bool) {
	i, ok := s.Index(t)
	if !ok {
		return unknownHour(), false
	}
	h := s.Hours[i]
	if i == 0 {
		return h, true
	}
	before := s.Hours[i-1]
	share := t.Sub(s.HourStart(i)).Hours()
	for q := range quantities {
		if facts[q].state {
			a, b := *before.value(q), *h.value(q)
			*h.value(q) = a + (b-a)*share
		}
	}
	return h, true
}

// Clone returns a series that shares nothing with s.
func (s Series) Clone() Series {
	s.Hours = slices.Clone(s.Hours)
	s.Notes = slices.Clone(s.Notes)
	return s
}

// note appends a note about hours that begin at hour first; first -1 means the whole.
func (s *Series) note(kind NoteKind, what string, first, hours int, format string, args ...any) {
	n := Note{Kind: kind, What: what, Hours: hours, Text: fmt.Sprintf(format, args...)}
	if first >= 0 {
		n.From = s.HourStart(first)
	}
	s.Notes = append(s.Notes, n)
}
