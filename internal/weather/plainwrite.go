package weather

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"
)

// WritePlain writes s in the project's own CSV (docs/weather.md), stamped at the end of each hour. Columns of which no
// hour is known are left out; unknown cells are empty. Numbers keep six significant digits.
func WritePlain(w io.Writer, s Series) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "# name: %s\n", oneLine(s.Name))
	if s.Place.PositionKnown {
		fmt.Fprintf(out, "# latitude: %s deg\n# longitude: %s deg\n", digits(s.Place.LatitudeDeg), digits(s.Place.LongitudeDeg))
	}
	if s.Place.ElevationKnown {
		fmt.Fprintf(out, "# elevation: %s m\n", digits(s.Place.ElevationM))
	}
	fmt.Fprintf(out, "# time zone: %s\n# stamp: end of hour\n", zoneName(s))
	if s.TypicalYear {
		fmt.Fprintln(out, "# typical year: yes")
	}
	for _, n := range s.Notes {
		fmt.Fprintf(out, "# note - %s\n", strings.ReplaceAll(oneLine(n.String()), ":", " -"))
	}
	var columns []plainColumn
	for _, c := range plainColumns {
		if c.q >= 0 && knows(s, c.q) {
			columns = append(columns, c)
		}
	}
	out.WriteString("time")
	for _, c := range columns {
		fmt.Fprintf(out, ",%s [%s]", c.name, c.units[0].name)
	}
	out.WriteByte('\n')
	for i := range s.Hours {
		out.WriteString(s.HourStart(i + 1).Format("2006-01-02 15:04"))
		for _, c := range columns {
			out.WriteByte(',')
			if v := *s.Hours[i].value(c.q); !math.IsNaN(v) {
				out.WriteString(digits((v - c.units[0].offset) / c.units[0].factor))
			}
		}
		out.WriteByte('\n')
	}
	return out.Flush()
}

func knows(s Series, q quantity) bool {
	for i := range s.Hours {
		if !math.IsNaN(*s.Hours[i].value(q)) {
			return true
		}
	}
	return false
}

// zoneName is the offset of the series as the reader takes it.
func zoneName(s Series) string {
	_, seconds := s.Start.Zone()
	return Zone(time.Duration(seconds) * time.Second).String()
}

func digits(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
