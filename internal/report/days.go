package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"suncellar/internal/winter"
)

// dayForm is how days of a winter are asked for and named to programs: "2001-11-24". The year is that of the weather; where that is made or typical it means nothing.
const dayForm = "2006-01-02"

// Days is a run of whole days of a winter under a name, as it can be asked for.
type Days struct {
	Name        string
	From, Until string // first and last day
}

// DaysToChoose are the whole winter, its worst days, and each calendar month.
func DaysToChoose(a *winter.Answer) []Days {
	n := a.Result.Hours()
	whole := winter.Span{From: 0, To: n}
	from, until := FirstAndLast(a, whole)
	list := []Days{{"the whole run", from, until}}
	if a.Spell.To-a.Spell.From >= 2 && a.Spell != whole {
		from, until = FirstAndLast(a, a.Spell)
		list = append(list, Days{strings.ToLower(strings.Split(spellTitle(a, a.Spell), ":")[0]), from, until})
	}
	for i := 0; i < n; {
		first := beginOf(a, i)
		next := time.Date(first.Year(), first.Month()+1, 1, 0, 0, 0, 0, first.Location())
		end := min(n, i+hoursUntil(first, next))
		from, until = FirstAndLast(a, winter.Span{From: i, To: end})
		name := first.Format("January")
		if i > 0 && first.Month() == beginOf(a, 0).Month() {
			name += ", at the end"
		}
		list = append(list, Days{name, from, until})
		i = end
	}
	return list
}

// beginOf is when a recorded hour begins, in the plan's zone.
func beginOf(a *winter.Answer, i int) time.Time { return local(a, a.Result.Time(i-1)) }

// hoursUntil is how many hours begin before an instant: in zones of half hours they begin at half past, and belong to the day and month they begin in.
func hoursUntil(start, at time.Time) int { return int(math.Ceil(at.Sub(start).Hours())) }

// FirstAndLast are the first and the last day of some hours.
func FirstAndLast(a *winter.Answer, of winter.Span) (from, until string) {
	return beginOf(a, of.From).Format(dayForm), beginOf(a, of.To-1).Format(dayForm)
}

// HoursOfDays are the recorded hours of the days from..until, both included; "" is the first and the last day of the run. Errors: what is no day, or not one of the run.
func HoursOfDays(a *winter.Answer, from, until string) (winter.Span, error) {
	n := a.Result.Hours()
	first, last := FirstAndLast(a, winter.Span{From: 0, To: n})
	read := func(path, text, none string) (time.Time, error) {
		if text == "" {
			text = none
		}
		day, err := time.ParseInLocation(dayForm, text, zone(a))
		if err != nil || text < first || text > last {
			return day, fmt.Errorf("%s is %q, must be a day from %s to %s", path, text, first, last)
		}
		return day, nil
	}
	begin, err := read("from", from, first)
	if err != nil {
		return winter.Span{}, err
	}
	end, err := read("until", until, last)
	if err != nil {
		return winter.Span{}, err
	}
	if end.Before(begin) {
		return winter.Span{}, fmt.Errorf("until is %s, must not lie before from, %s", end.Format(dayForm), begin.Format(dayForm))
	}
	start := beginOf(a, 0)
	return winter.Span{From: max(0, hoursUntil(start, begin)), To: min(n, hoursUntil(start, end)+24)}, nil
}

// spellDays is how long the days are that are looked at hour by hour.
const spellDays = 10

// TenDays are ten days from a day on; where fewer are left, the last ten; "" is the worst.
func TenDays(a *winter.Answer, from string) (winter.Span, error) {
	if from == "" {
		return a.Spell, nil
	}
	of, err := HoursOfDays(a, from, "")
	if err != nil {
		return of, err
	}
	n := a.Result.Hours()
	of.From = max(0, min(of.From, n-24*spellDays))
	of.To = min(n, of.From+24*spellDays)
	return of, nil
}
