package drill

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"suncellar/internal/plan"
	"suncellar/internal/unit"
	"suncellar/internal/winter"
)

// always is every hour of the day.
var always = plan.Hours{From: 0, Until: 24}

// fault is the plan as long as the fault lasts.
func (t *trial) fault() (*plan.Plan, error) {
	switch t.a.Kind {
	case Leak, DrumFrozen:
		return t.leak()
	case InletOpen, FlapFrozen:
		return t.inlet()
	case VentStuck:
		return t.vent()
	case PaneBroken:
		return t.pane()
	case CoverOff:
		return t.cover()
	case DoorOpen:
		return t.door()
	}
	return nil, fmt.Errorf("there is no drill %q\nhint: drills are %s", t.a.Kind, kindNames())
}

func kindNames() string {
	var names []string
	for _, k := range Kinds {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}

// named finds one of some names, the first where none is asked for.
func (t *trial) named(what, list string, names []string) (int, error) {
	asked := strings.TrimSpace(t.req.At)
	switch {
	case len(names) == 0:
		return 0, fmt.Errorf("the plan has no %s\nhint: this drill needs %s", what, list)
	case asked == "":
		t.a.At = names[0]
		return 0, nil
	}
	for i, n := range names {
		if strings.EqualFold(n, asked) {
			t.a.At = n
			return i, nil
		}
	}
	hint := "there are: " + strings.Join(names[:min(8, len(names))], "; ")
	if near, ok := unit.Nearest(asked, names); ok {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	return 0, fmt.Errorf("no %s is called %q\nhint: %s", what, asked, hint)
}

// withOpening is the plan with one more opening to the outdoors that stands open at all hours. height is above the floor [m].
func withOpening(p *plan.Plan, in string, area, height float64) *plan.Plan {
	c := *p
	c.Vents = append(slices.Clone(p.Vents), plan.Vent{Name: "fault", In: in, Area: area, Height: math.Max(0, height), Hours: always})
	return &c
}

func (t *trial) vent() (*plan.Plan, error) {
	p := t.a.Winter.Plan
	names, _ := Can(t.a.Winter.House, VentStuck)
	i, err := t.named("vent", "vents in the plan", names)
	if err != nil {
		return nil, err
	}
	t.a.Path = fmt.Sprintf("vents[%d]", i)
	c := *p
	c.Vents = slices.Clone(p.Vents)
	c.Vents[i].Wax, c.Vents[i].Above, c.Vents[i].Hours = nil, nil, always
	return &c, nil
}

func (t *trial) door() (*plan.Plan, error) {
	p, h := t.a.Winter.Plan, t.a.Winter.House
	names, _ := Can(h, DoorOpen)
	i, err := t.named("door", "doors in the plan", names)
	if err != nil {
		return nil, err
	}
	t.a.Path = fmt.Sprintf("doors[%d]", i)
	d := p.Doors[i]
	sill := 0.0
	if f := h.Face(d.Name); f != nil {
		sill = f.Z0
	}
	return withOpening(p, d.In, d.Width*d.Height, sill+d.Height/2-h.FloorZ), nil
}

// pane breaks so much of a glazed face, at its middle. The rest of the face, and the warmth that the broken part kept, stay as they are: what the wind blows in is many times that.
func (t *trial) pane() (*plan.Plan, error) {
	h := t.a.Winter.House
	names, _ := Can(h, PaneBroken)
	i, err := t.named("glazing", "a glazed face", names)
	if err != nil {
		return nil, err
	}
	f := glazed(h)[i]
	if t.a.PaneM2 > f.Area+1e-9 {
		return nil, &winter.Asked{Of: "pane", Err: fmt.Errorf("a broken pane of %.2f m2 is larger than %s, %.2f m2", t.a.PaneM2, f.Name, f.Area)}
	}
	t.a.Path = "section"
	return withOpening(t.a.Winter.Plan, f.Of, t.a.PaneM2, (f.Z0+f.Z1)/2-h.FloorZ), nil
}

func (t *trial) cover() (*plan.Plan, error) {
	p := t.a.Winter.Plan
	if p.Cover == nil {
		return nil, fmt.Errorf("the plan has no cover that could be left off\nhint: write cover: {r_value: 0.7 m2K/W}, or try another drill")
	}
	t.a.At, t.a.Path = "cover", "cover"
	c := *p
	c.Cover = nil
	return &c, nil
}

// inlet opens the pipe that brings the rain; with a flap frozen ajar no rain comes either.
func (t *trial) inlet() (*plan.Plan, error) {
	p, h := t.a.Winter.Plan, t.a.Winter.House
	if p.Water == nil || h.Scheme == nil {
		return t.ownInlet()
	}
	in := p.Water.Inlet
	if t.a.Kind == FlapFrozen && in.Mouth != "flap" {
		return nil, fmt.Errorf("the inlet's mouth is %s, which has no flap that could freeze\nhint: write water.inlet.mouth: flap, or try the drill inlet", articled(in.Mouth))
	}
	t.a.At, t.a.Path = "inlet of the rain water", "water.inlet"
	c := *p
	c.Inlets = slices.Clone(p.Inlets)
	found := false
	for i := range c.Inlets {
		if c.Inlets[i].Name == in.Air && in.Air != "" {
			c.Inlets[i].Closed, found = 0, true
		}
	}
	if !found {
		height := math.Max(0, h.Scheme.Points[h.Scheme.InletEnd].Z-h.FloorZ)
		c.Inlets = append(c.Inlets, plan.Inlet{Name: "fault", Diameter: in.Diameter, Height: height})
	}
	if t.a.Kind == FlapFrozen {
		w := *p.Water
		from, until := plan.Date{Month: 1, Day: 1}, plan.Date{Month: 12, Day: 31}
		w.Inlet.ShutFrom, w.Inlet.ShutUntil = &from, &until
		c.Water = &w
	}
	return &c, nil
}

func articled(mouth string) string {
	if mouth == "open pipe" {
		return "an " + mouth
	}
	return "a " + mouth
}

// ownInlet opens one of the plan's inlets of air, where nothing is said of the water.
func (t *trial) ownInlet() (*plan.Plan, error) {
	p := t.a.Winter.Plan
	var names []string
	for _, in := range p.Inlets {
		names = append(names, in.Name)
	}
	i, err := t.named("inlet", "water or inlets in the plan", names)
	if err != nil {
		return nil, err
	}
	if p.Inlets[i].Closed == 0 {
		return nil, fmt.Errorf("inlets[%d], %s, stands open in the plan already: its closed is 0 %%", i, names[i])
	}
	t.a.Path = fmt.Sprintf("inlets[%d]", i)
	c := *p
	c.Inlets = slices.Clone(p.Inlets)
	c.Inlets[i].Closed = 0
	return &c, nil
}
