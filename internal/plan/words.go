package plan

import (
	"fmt"
	"strconv"
	"strings"
	"time"
	_ "time/tzdata" // zone names are known on machines without a zone folder too

	"suncellar/internal/unit"
)

// word is a value with a writing of its own.
type word interface {
	// read fills the value from its text. f is its row of the table.
	read(text string, f *field) *trouble
}

// read takes 10-15 for that day of any year, and 2024-12-24 for one day.
func (d *Date) read(text string, _ *field) *trouble {
	wrong := &trouble{0, fmt.Sprintf("%q is not a date", text), "write month and day as 10-15, or 2024-12-24 with the year"}
	parts := strings.Split(text, "-")
	if len(parts) == 3 {
		if len(parts[0]) != 4 {
			return wrong
		}
	} else if len(parts) != 2 {
		return wrong
	}
	numbers := make([]int, len(parts))
	for i, p := range parts {
		n, ok := wholeNumber(p)
		if !ok || i > 0 && len(p) > 2 || len(p) > 2 && len(parts) == 2 {
			return wrong
		}
		numbers[i] = n
	}
	year := 0
	if len(numbers) == 3 {
		year, numbers = numbers[0], numbers[1:]
		if year < 1900 || year > 2200 {
			return &trouble{0, fmt.Sprintf("%s is out of range, allowed: the years 1900 to 2200", text), ""}
		}
	}
	month, day := numbers[0], numbers[1]
	if month < 1 || month > 12 {
		return &trouble{0, fmt.Sprintf("%s has no month from 01 to 12", text), "the month stands before the day: 10-15 is 15 October"}
	}
	if last := lastDay(year, month); day < 1 || day > last {
		bad := &trouble{0, fmt.Sprintf("%s is no day: the month has the days 01 to %d", text, last), ""}
		if month == 2 && day == 29 && year == 0 {
			bad.message, bad.hint = text+" is a day of leap years only", "write 02-28, or the date with its year"
		}
		return bad
	}
	*d = Date{year, month, day}
	return nil
}

// lastDay is the last day of a month; year 0 stands for any year, in which February has 28.
func lastDay(year, month int) int {
	if year == 0 {
		year = 2001
	}
	return time.Date(year, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC).Day()
}

func wholeNumber(text string) (int, bool) {
	if text == "" || len(text) > 4 || strings.Trim(text, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(text)
	return n, err == nil
}

// read takes 18:00-07:00 and always.
func (h *Hours) read(text string, _ *field) *trouble {
	if text == "always" {
		*h = Hours{0, 24}
		return nil
	}
	from, until, ok := strings.Cut(strings.ReplaceAll(text, " ", ""), "-")
	a, okFrom := clock(from)
	b, okUntil := clock(until)
	if !ok || !okFrom || !okUntil {
		return &trouble{0, fmt.Sprintf("%q is not a span of hours", text), "write it as 18:00-07:00, in standard time, or 'always'"}
	}
	if a == b {
		return &trouble{0, fmt.Sprintf("%s has no length", text), "write 'always' for the whole day; leave the part out for never"}
	}
	*h = Hours{a, b}
	return nil
}

// clock reads 7:30 or 07:30 to hours from 0 to 24.
func clock(text string) (float64, bool) {
	h, m, ok := strings.Cut(text, ":")
	hour, okHour := wholeNumber(h)
	minute, okMinute := wholeNumber(m)
	if !ok || !okHour || !okMinute || len(h) > 2 || len(m) != 2 || minute > 59 || hour*60+minute > 24*60 {
		return 0, false
	}
	return float64(hour*60+minute) / 60, true
}

// read takes UTC-7, UTC+5:30, UTC and names of the zone data base.
func (z *TimeZone) read(text string, _ *field) *trouble {
	if rest, ok := strings.CutPrefix(text, "UTC"); ok {
		seconds, ok := utcOffset(strings.ReplaceAll(rest, "−", "-"))
		if !ok {
			return &trouble{0, fmt.Sprintf("%q is not an offset from UTC between UTC-12 and UTC+14", text), "write UTC-7 or UTC+5:30, east of Greenwich positive"}
		}
		*z = TimeZone{text, seconds}
		return nil
	}
	unknown := &trouble{0, fmt.Sprintf("%q is not a time zone", text), "write UTC-7, or a zone name such as America/Denver"}
	if text == "" || text == "Local" || strings.Trim(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_+-/") != "" {
		return unknown
	}
	zone, err := time.LoadLocation(text)
	if err != nil {
		return unknown
	}
	*z = TimeZone{text, standardOffset(zone)}
	return nil
}

// standardOffset is the offset of winter: the smaller one of January and July 2025 [s].
func standardOffset(zone *time.Location) int {
	_, january := time.Date(2025, 1, 1, 12, 0, 0, 0, zone).Zone()
	_, july := time.Date(2025, 7, 1, 12, 0, 0, 0, zone).Zone()
	return min(january, july)
}

// utcOffset reads -7, +5:30 or nothing to seconds.
func utcOffset(text string) (int, bool) {
	if text == "" {
		return 0, true
	}
	sign := 1
	switch text[0] {
	case '-':
		sign = -1
	case '+':
	default:
		return 0, false
	}
	h, m, minutes := strings.Cut(text[1:], ":")
	hour, okHour := wholeNumber(h)
	minute, okMinute := wholeNumber(m)
	if !okHour || minutes && (!okMinute || len(m) != 2 || minute > 59) || len(h) > 2 {
		return 0, false
	}
	seconds := sign * (hour*3600 + minute*60)
	return seconds, seconds >= -12*3600 && seconds <= 14*3600
}

// The lowest and the highest fixed temperature behind a face [°C].
const (
	coldestBehind = -50
	hottestBehind = 60
)

// read takes air, soil, adiabatic and fixed 10 degC.
func (b *Behind) read(text string, _ *field) *trouble {
	words := []string{"air", "soil", "adiabatic"}
	for _, w := range words {
		if text == w {
			*b = Behind{What: w}
			return nil
		}
	}
	rest, ok := strings.CutPrefix(text, "fixed ")
	if !ok {
		bad := &trouble{0, fmt.Sprintf("%q is not read here, allowed: air, soil, adiabatic, fixed 10 degC", text), ""}
		first, _, _ := strings.Cut(text, " ")
		if near, ok := unit.Nearest(first, append(words, "fixed")); ok {
			bad.hint = fmt.Sprintf("did you mean %q?", near)
		}
		return bad
	}
	q, err := unit.Parse(unit.Temperature, rest)
	if err != nil {
		bad := unitTrouble(err, rest)
		bad.offset += len("fixed ")
		return bad
	}
	if l := (limits{coldestBehind, hottestBehind}); !l.hold(q.SI) {
		return &trouble{0, fmt.Sprintf("%s is out of range, allowed: %s", text, l.told(measureOf("temperature"), q)), ""}
	}
	*b = Behind{"fixed", q.SI}
	return nil
}
