package worth

import (
	"fmt"
	"strings"

	"suncellar/internal/house"
	"suncellar/internal/plan"
	"suncellar/internal/weather"
)

// Kind sorts parameters.
type Kind string

// The kinds: what money or work buys, and what is not known of a house as it stands.
const (
	Build   Kind = "build"
	Unknown Kind = "unknown"
)

// Amount is one unit of a parameter, in each system what people there buy or dig.
type Amount struct {
	SI float64 // of the parameter's own value
	In string  // in words: "1 cm", "1 drum"
	US float64
	Us string // "1 in"
}

// Parameter is one thing of a plan of which there can be more or less, or that is there or not.
type Parameter struct {
	ID    string // for programs: the path of the first value it sets, or a word
	Label string // in the trade's words
	Kind  Kind
	One   Amount  // one unit; for what is not known one standard deviation
	At    float64 // value in the plan, in the parameter's own measure
	Step  float64 // for the derivative, in the same measure
	Whole bool    // only whole numbers can be had
	// Switch marks what is there or not: the value goes from 0, as planned, to 1. Away marks a switch whose planned side is the
	// one that is asked after, so that the worth is of what the plan has.
	Switch, Away bool
	Deeper       bool   // more of it is dug out
	Snow         bool   // it is about snow on the glazing
	Free         bool   // its runs have their own snow, not that of the plan's run
	Prior        string // where the spread of what is not known comes from
	Of           string // its key of the plan below unknown; "" of what can be built
	set          func(x float64) []plan.Change
	shift        func(h *weather.Hour, x float64) // of weather outdoors, in place of a change of the plan
}

// Set is the changes that give the parameter another value; none for weather outdoors, which is no value of a plan.
func (p *Parameter) Set(x float64) []plan.Change {
	if p.set == nil {
		return nil
	}
	return p.set(x)
}

// Parameters lists all that a plan has, as the table of the trade orders them: what can be built, then what is not known, then what is outdoors.
func Parameters(p *plan.Plan, h *house.House) []Parameter {
	t := &things{p: p, h: h}
	t.layers()
	t.boards()
	t.store()
	t.glazing()
	t.cover()
	t.shape()
	t.windows()
	t.air()
	t.beds()
	t.colours()
	t.unknown()
	t.outdoors()
	return t.list
}

// Units of the trade.
var (
	oneThick = Amount{0.01, "1 cm", 0.0254, "1 in"}
	oneFar   = Amount{0.1, "10 cm", 0.1524, "6 in"}
	oneLong  = Amount{1, "1 m", 0.3048, "1 ft"}
	oneSlope = Amount{5 * degree, "5°", 5 * degree, "5°"}
	oneArea  = Amount{1, "1 m²", 0.09290304, "1 sq ft"}
	oneJoint = Amount{0.01, "100 cm²", 10 * 0.00064516, "10 sq in"}
	oneVent  = Amount{0.1, "0.1 m²", 0.09290304, "1 sq ft"}
	oneDrum  = Amount{1, "1 drum", 1, "1 drum"}
	fivePart = Amount{0.05, "5 %", 0.05, "5 %"}
	tenPart  = Amount{0.1, "10 %", 0.1, "10 %"}
	oneR     = Amount{0.2, "0.2 m²K/W", rUS, "R-1"}
)

const (
	degree = 3.14159265358979323846 / 180 // [rad]
	rUS    = 0.1761101837                 // one h ft² °F/Btu [m²K/W]; NIST SP 811
	gallon = 0.003785411784               // [m³]
)

// things gathers parameters.
type things struct {
	p    *plan.Plan
	h    *house.House
	list []Parameter
}

func (t *things) add(p Parameter) { t.list = append(t.list, p) }

// value adds a parameter that is one number of the plan.
func (t *things) value(path, label string, at float64, one Amount) *Parameter {
	t.add(Parameter{ID: path, Label: label, Kind: Build, One: one, At: at, Step: stepOf(at, one), set: t.at(path)})
	return &t.list[len(t.list)-1]
}

// stepOf is the step of a derivative: a seventh of the value or half a unit, whichever is more, but never over four tenths of
// the value, so that both sides stay above zero. It is small against the bend of most answers and large against their noise; how well
// is told by its half.
func stepOf(at float64, one Amount) float64 {
	return min(max(0.15*at, one.SI/2), 0.4*at)
}

// at makes the change of one number, written in the plan's own unit where it stands there.
func (t *things) at(path string) func(x float64) []plan.Change {
	return func(x float64) []plan.Change { return []plan.Change{t.number(path, x)} }
}

func (t *things) number(path string, x float64) plan.Change {
	c, err := t.p.Written(path, x)
	if err != nil {
		panic("worth: " + err.Error())
	}
	return c
}

// toggle adds what is there or not: changes lead from the plan to its other side.
func (t *things) toggle(id, label string, away bool, changes ...string) *Parameter {
	var list []plan.Change
	for i := 0; i < len(changes); i += 2 {
		list = append(list, plan.Change{Path: changes[i], Value: changes[i+1], Origin: plan.Changed})
	}
	t.add(Parameter{ID: id, Label: label, Kind: Build, One: Amount{1, "", 1, ""}, Step: 1, Switch: true, Away: away,
		set: func(float64) []plan.Change { return list }})
	return &t.list[len(t.list)-1]
}

// path puts keys, names and numbers of list items together.
func path(steps ...any) string {
	out := ""
	for _, s := range steps {
		switch s := s.(type) {
		case int:
			out += fmt.Sprintf("[%d]", s)
		case string:
			out = plan.Join(out, s)
		}
	}
	return out
}

// words is a name of a table as it is read.
func words(name string) string { return strings.ReplaceAll(name, "_", " ") }
