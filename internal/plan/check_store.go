package plan

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// BayName is what bay i, from 0, of a row with so many bays is called: by its row where it is the only one.
func BayName(row string, bays, i int) string {
	if bays <= 1 {
		return row
	}
	return fmt.Sprintf("%s, bay %d", row, i+1)
}

// bayNames are the bays and rows that an event may name; false when one of them could not be read.
func (c *checker) bayNames() (names []string, known bool) {
	for i, r := range c.p.Store.Rows {
		path := item("store.rows", i)
		if !c.read(join(path, "name"), join(path, "bays")) {
			return nil, false
		}
		names = append(names, r.Name)
		for b := range r.Bays {
			if n := BayName(r.Name, r.Bays, b); n != r.Name {
				names = append(names, n)
			}
		}
	}
	return names, len(names) > 0
}

// eventKeys are the keys that belong to each kind of event, besides those of all.
var eventKeys = map[string][]string{
	"leak":   {"until", "rate", "hole", "level", "to"},
	"drain":  {"rate", "share", "level", "to"},
	"refill": {"rate", "level", "volume", "temperature"},
	"draw":   {"until", "volume", "bed"},
}

// storeEvents checks what happens to the water.
func (c *checker) storeEvents() {
	bays, known := c.bayNames()
	for i, e := range c.p.Store.Events {
		path := item("store.events", i)
		if known {
			c.named(join(path, "bay"), e.Bay, "bay or row", bays)
		}
		c.eventDates(path, e)
		if !c.read(join(path, "kind")) {
			continue
		}
		c.eventBelongs(path, e)
		c.eventNeeds(path, e)
	}
}

// eventBelongs reports keys of other kinds.
func (c *checker) eventBelongs(path string, e StoreEvent) {
	for _, key := range []string{"until", "rate", "hole", "level", "share", "volume", "temperature", "to", "bed"} {
		if c.written(join(path, key)) && !slices.Contains(eventKeys[e.Kind], key) {
			c.fail(join(path, key), fmt.Sprintf("a %s has no %s", e.Kind, key), "its keys: bay, from, hour, "+strings.Join(eventKeys[e.Kind], ", "))
		}
	}
}

// eventNeeds reports what a kind cannot do without.
func (c *checker) eventNeeds(path string, e StoreEvent) {
	need := func(key, hint string) {
		if !c.written(join(path, key)) {
			c.fail(join(path, key), fmt.Sprintf("is missing, a %s needs it", e.Kind), hint)
		}
	}
	switch e.Kind {
	case "leak":
		c.exactly(path, "rate", "hole", "a leak has its rate, or the diameter of its hole")
	case "drain":
		c.exactly(path, "share", "level", "a drain lets out a share of the water, or all down to a level")
	case "refill":
		c.exactly(path, "volume", "level", "a refill brings a volume of water, or fills up to a level")
		need("temperature", "such as 'temperature: 6 degC'")
	case "draw":
		need("volume", "such as 'volume: 40 L'")
		need("bed", "name of the bed that is watered")
		var beds []string
		for _, b := range c.p.Beds {
			beds = append(beds, b.Name)
		}
		c.named(join(path, "bed"), e.Bed, "bed", beds)
	}
	if e.To == "cold sink" && c.p.ColdSink == nil && !c.written("cold_sink") {
		c.fail(join(path, "to"), "the plan has no cold sink", "write floor, soil or outside, or add cold_sink")
	}
}

// eventDates holds dates to any year, and tells of an event that no run meets.
func (c *checker) eventDates(path string, e StoreEvent) {
	from, until := join(path, "from"), join(path, "until")
	if !c.read(from) {
		return
	}
	if e.From.Year != 0 {
		c.fail(from, fmt.Sprintf("%s has a year", c.value(from)), "write month and day alone: what is run is one winter, or a typical year")
		return
	}
	if e.Until != nil && c.read(until) {
		switch {
		case e.Until.Year != 0:
			c.fail(until, fmt.Sprintf("%s has a year", c.value(until)), "write month and day alone")
		case *e.Until == e.From && e.Kind == "leak":
			c.fail(until, fmt.Sprintf("from and until are one day, %s", c.value(from)), "until is the day on which the leak is mended")
		}
	}
	built, last := c.p.Ground.Built, c.p.Run.Until
	if c.p.Run.Span == "winter" && c.read("ground.built", "run.until") && last.Year == 0 && built.Year == 0 && !e.From.Between(built, last) {
		c.warn(from, fmt.Sprintf("%s does not lie between the day the house is built (%s) and the last day of the run (%s): it does not happen", c.value(from), c.value("ground.built"), c.value("run.until")), "")
	}
}

// DayOf is a day of any year.
func DayOf(month time.Month, day int) Date { return Date{Month: int(month), Day: day} }

// Between tells whether a day of any year lies from one to another, over the year's end if need be.
func (d Date) Between(from, until Date) bool {
	n := func(d Date) int { return d.Month*100 + d.Day }
	if n(from) <= n(until) {
		return n(d) >= n(from) && n(d) <= n(until)
	}
	return n(d) >= n(from) || n(d) <= n(until)
}
