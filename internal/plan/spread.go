package plan

import (
	"fmt"
	"reflect"
	"strings"
	"unicode/utf8"

	"suncellar/internal/unit"
)

// How a spread is written, and its limits. Factors beyond these say nothing of a house.
const (
	spreadExample             = "'0.5 to 2 times', '40 to 70 %' or 'off'"
	spreadHint                = "write 0.5 to 2 times, or its ends with their unit, such as 40 to 70 %, or off; 8 in 10 houses lie between the ends"
	leastTimes, greatestTimes = 0.01, 100.0
)

// read takes off, 0.5 to 2 times (or 0.5 times to 2 times), and 40 to 70 % in the measure of one of the values that the spread is about.
func (s *Spread) read(text string, f *field) *trouble {
	if text == "off" {
		*s = Spread{Text: text, Off: true}
		return nil
	}
	low, high, ok := strings.Cut(text, " to ")
	if !ok {
		return &trouble{0, fmt.Sprintf("%q is no spread", text), spreadHint}
	}
	number, times := strings.CutSuffix(strings.TrimRight(high, " "), "times")
	ends := ends{low: low, high: high, second: utf8.RuneCountInString(low) + len(" to ")}
	if times {
		ends.low, ends.high = strings.TrimRight(strings.TrimSuffix(low, "times"), " "), strings.TrimRight(number, " ")
		return s.times(text, ends)
	}
	return s.own(text, ends, f)
}

// ends are the two texts of a spread; second is where the higher begins, in characters.
type ends struct {
	low, high string
	second    int
}

// times reads factors of the plan's own value.
func (s *Spread) times(text string, e ends) *trouble {
	var at [2]float64
	for i, part := range []string{e.low, e.high} {
		q, err := unit.Parse(unit.Ratio, part)
		if err != nil {
			return e.moved(unitTrouble(err, part), i)
		}
		if l := (limits{leastTimes, greatestTimes}); !l.hold(q.SI) {
			return e.moved(&trouble{0, fmt.Sprintf("%s times is out of range, allowed: %g to %g times", part, leastTimes, greatestTimes), spreadHint}, i)
		}
		at[i] = q.SI
	}
	if bad := e.ordered(text, at); bad != nil {
		return bad
	}
	if !(at[0] < 1 && at[1] > 1) {
		return &trouble{0, fmt.Sprintf("%s does not hold the plan's own value, which is 1 times", text), "give an end below 1 and one above, or change the value itself"}
	}
	*s = Spread{Text: text, Low: at[0], High: at[1]}
	return nil
}

// moved puts a trouble of one end where that end stands.
func (e ends) moved(bad *trouble, end int) *trouble {
	if end == 1 {
		bad.offset += e.second
	}
	return bad
}

func (e ends) ordered(text string, at [2]float64) *trouble {
	if at[0] < at[1] {
		return nil
	}
	return &trouble{0, fmt.Sprintf("the ends of %s are not in order", text), "the lower one first"}
}

// own reads ends in the measure of the first value that they can be of.
func (s *Spread) own(text string, e ends, f *field) *trouble {
	if len(f.of) == 0 {
		return &trouble{0, fmt.Sprintf("%q has no 'times' at its end, which is wanted here", text), "write 0.7 to 1.4 times, or off"}
	}
	var first *trouble
	for _, path := range f.of {
		of := fieldAt(path)
		if _, err := unit.Parse(of.measure.kind, e.high); err != nil {
			if first == nil {
				first = e.moved(unitTrouble(err, e.high), 1)
			}
			continue
		}
		at, bad := e.values(of)
		if bad == nil {
			bad = e.ordered(text, at)
		}
		if bad == nil {
			*s = Spread{Text: text, Path: path, Low: at[0], High: at[1]}
		}
		return bad
	}
	first.hint = spreadHint
	if len(f.of) > 1 {
		first.hint += "; in the measure of " + strings.Join(f.of, ", ")
	}
	return first
}

// values reads both ends within the limits of the value they are of. The lower one may leave its unit to the higher.
func (e ends) values(of *field) (at [2]float64, bad *trouble) {
	high, bad := of.quantity(e.high)
	if bad != nil {
		return at, e.moved(bad, 1)
	}
	text := e.low
	if _, err := unit.Parse(unit.Ratio, text); err == nil && high.Unit != "" {
		text = strings.TrimRight(text, " ") + " " + high.Unit
	}
	low, bad := of.quantity(text)
	if bad != nil {
		return at, bad
	}
	if low.SI <= 0 {
		return at, &trouble{0, fmt.Sprintf("the lower end, %s, is not above 0", text), "a spread is of a value that is there"}
	}
	return [2]float64{low.SI, high.SI}, nil
}

// spreadAllowed tells the limits of a spread's ends.
func (f *field) spreadAllowed() string {
	list := []string{fmt.Sprintf("%g to %g times", leastTimes, greatestTimes)}
	for _, path := range f.of {
		of := fieldAt(path)
		list = append(list, of.limits.told(of.measure, unit.Quantity{}))
	}
	return strings.Join(list, "; ")
}

// Of is what the plan says of one key of unknown, nil where it says nothing. The key has to be one of UnknownKeys.
func (u *Unknown) Of(key string) *Spread {
	for _, f := range theTable()[reflect.TypeFor[Unknown]()] {
		if f.key == key {
			return reflect.ValueOf(u).Elem().Field(f.at).Interface().(*Spread)
		}
	}
	panic("plan: unknown has no key " + key)
}

// UnknownKeys lists the keys of unknown.
func UnknownKeys() []string { return keys(theTable()[reflect.TypeFor[Unknown]()]) }

// unknown holds spreads in a measure of their own to the value that the plan has.
func (c *checker) unknown() {
	for _, f := range theTable()[reflect.TypeFor[Unknown]()] {
		path, s := join("unknown", f.key), c.p.Unknown.Of(f.key)
		if s == nil || s.Path == "" || !c.read(path) {
			continue
		}
		own, has := c.p.Origins.At(s.Path)
		if !has {
			c.otherMeasure(path, s, &f)
			continue
		}
		if v := own.Quantity.SI; !(s.Low < v && v < s.High) {
			c.fail(path, fmt.Sprintf("%s does not hold the plan's own value: %s is %s", s.Text, s.Path, own.Text), "give an end below it and one above, or change "+s.Path)
		}
	}
}

// otherMeasure reports a spread of a value that the plan does not have.
func (c *checker) otherMeasure(path string, s *Spread, f *field) {
	for _, other := range f.of {
		if c.read(other) {
			c.fail(path, fmt.Sprintf("%s is of %s, the plan has %s", s.Text, s.Path, other), "write it in the measure of "+other+", or as times")
			return
		}
	}
	if !c.written(s.Path) {
		c.fail(path, fmt.Sprintf("%s is of %s, which the plan does not give", s.Text, s.Path), "write it as times, or give "+s.Path)
	}
}
