package record

import (
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"

	"suncellar/internal/weather"
)

// Record is many days or years of weather at one place: either Days or Hourly.
type Record struct {
	Name   string
	Place  weather.Place
	Start  time.Time       // midnight of the first whole day, in a zone of fixed offset
	Days   []weather.Day   // one per calendar day from Start on; what is not known is NaN
	Hourly *weather.Series // nil for a daily record
	Notes  []weather.Note
}

// Options are what a file may leave open.
type Options struct {
	// Place stands in for what the file does not tell of its own.
	Place weather.Place
	// UTCOffset is the zone of the days; it counts when ZoneGiven. Otherwise the whole hour nearest the longitude is taken.
	UTCOffset time.Duration
	ZoneGiven bool
}

// Open reads a record of any of the formats known, told by its content. Errors name the file without its folder.
func Open(path string, options Options) (*Record, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("reading record: %w", err)
	}
	defer f.Close()
	return Read(f, filepath.Base(path), options)
}

// format is one kind of daily file: how it is known, and its reader.
type format struct {
	is   func(head string) bool
	read func(content string, d *draft)
}

// formats are the daily ones. What none of them knows goes to weather.Read.
var formats = []format{
	{isBoulder, readBoulder},
	{isGridMET, readGridMET},
	{isGHCN, readGHCN},
	{isCRND, readCRND},
	{isPowerDays, readPower},
}

// headBytes is how much of a file its format is told by.
const headBytes = 4096

// Read reads a record of any of the formats known, told by its content. name stands for the file in errors.
func Read(r io.Reader, name string, options Options) (*Record, error) {
	content, err := weather.Text(r, name)
	if err != nil {
		return nil, err
	}
	head := content[:min(len(content), headBytes)]
	for _, f := range formats {
		if f.is(head) {
			d := newDraft(name, options)
			f.read(content, d)
			return d.finish()
		}
	}
	if file, is := archiveDays(content); is {
		d := newDraft(name, options)
		readArchive(file, d)
		return d.finish()
	}
	s, err := weather.Read(strings.NewReader(content), name, weather.ReadOptions{UTCOffset: options.UTCOffset, ZoneGiven: options.ZoneGiven, KeepGaps: true})
	if err != nil {
		return nil, err
	}
	return ofSeries(s, options), nil
}

// ofSeries is a record of hours.
func ofSeries(s weather.Series, options Options) *Record {
	s.Place = filled(s.Place, options.Place)
	y, m, d := s.Start.Date()
	midnight := time.Date(y, m, d, 0, 0, 0, 0, s.Start.Location())
	if midnight.Before(s.Start) {
		midnight = midnight.AddDate(0, 0, 1)
	}
	return &Record{Name: s.Name, Place: s.Place, Start: midnight, Hourly: &s, Notes: s.Notes}
}

// filled is p with what it lacks taken from other.
func filled(p, other weather.Place) weather.Place {
	if !p.PositionKnown && other.PositionKnown {
		p.LatitudeDeg, p.LongitudeDeg, p.PositionKnown = other.LatitudeDeg, other.LongitudeDeg, true
	}
	if !p.ElevationKnown && other.ElevationKnown {
		p.ElevationM, p.ElevationKnown = other.ElevationM, true
	}
	return p
}

// zone is the zone of the days of a place.
func (o Options) zone(p weather.Place) *time.Location {
	if o.ZoneGiven {
		return weather.Zone(o.UTCOffset)
	}
	return weather.Zone(time.Duration(math.Round(p.LongitudeDeg/15)) * time.Hour)
}

// Date is the first instant of day i.
func (r *Record) Date(i int) time.Time {
	return r.Start.AddDate(0, 0, i)
}

// Climate is what the record comes to: weather.ClimateOfDays or weather.ClimateOfHours.
func (r *Record) Climate() (weather.Climate, error) {
	if r.Hourly != nil {
		return weather.ClimateOfHours(*r.Hourly)
	}
	return weather.ClimateOfDays(r.Start, r.Place, r.Days)
}
