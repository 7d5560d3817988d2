package plan

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"suncellar/internal/unit"
)

// Known is what a plan may name without describing it.
type Known struct {
	Materials []string // of the library
	Glazings  []string // of the library
	Drums     []string // sizes of drums and totes
	Colours   []string // of drums; nil: those of the table
	Weather   bool     // a weather file is given beside the plan, so that it needs no climate
}

// Words that stand where a name could.
const (
	BareEarth = "bare earth" // build of a floor or an edge that is natural ground
	LeftEnd   = "left end"   // face of an opening in the left end wall
	RightEnd  = "right end"  // face of an opening in the right end wall
)

// Faces of the short form, in the order front to back round the room.
const (
	FrontWall    = "front wall"
	GlazingFace  = "glazing"
	BackRoofFace = "back roof" // of a pit only
	BackWall     = "back wall"
	FloorFace    = "floor"
)

// Faces lists the names of the faces of the section, without the end walls: of the short form front wall, glazing,
// back roof (pit), back wall, floor; of the long form its edges in order.
func (p *Plan) Faces() []string {
	if p.Section != nil {
		names := make([]string, len(p.Section.Edges))
		for i, e := range p.Section.Edges {
			names[i] = e.Name
		}
		return names
	}
	if p.Shape != nil && p.Shape.Kind == "lean-to" {
		return []string{FrontWall, GlazingFace, BackWall, FloorFace}
	}
	return []string{FrontWall, GlazingFace, BackRoofFace, BackWall, FloorFace}
}

// Check finds what is wrong between the values of a plan that was read, all at once, in the order of the file.
// A rule is left out where one of its values could not be read: Read has reported that.
func Check(p *Plan, known Known) []Finding {
	if known.Colours == nil {
		known.Colours = colours()
	}
	c := &checker{p: p, known: known, used: map[string]bool{}}
	c.section()
	c.builds()
	c.glazings()
	c.openings()
	c.sunShares()
	c.climate()
	c.snow()
	c.store()
	c.floorPlan()
	c.water()
	c.tubes()
	c.site()
	c.outlook()
	c.leakage()
	c.seasons()
	c.boards()
	c.footings()
	c.unknown()
	c.names()
	c.idle()
	return sorted(c.findings)
}

type checker struct {
	p        *Plan
	known    Known
	findings []Finding
	used     map[string]bool // names that something in the plan has, each behind what it is: "build roof"
}

// fail reports an error at a path, or at the nearest part above it that was written.
func (c *checker) fail(path, message, hint string) { c.add(Error, path, message, hint) }

func (c *checker) warn(path, message, hint string) { c.add(Warning, path, message, hint) }

func (c *checker) add(s Severity, path, message, hint string) {
	c.findings = append(c.findings, c.p.Place(Finding{Path: path, Message: message, Hint: hint, Severity: s}))
}

// read tells whether all values were read without an error, or have a default.
func (c *checker) read(paths ...string) bool {
	for _, p := range paths {
		if _, ok := c.p.Origins.At(p); !ok {
			return false
		}
	}
	return true
}

// written tells whether a path stands in the file or in a change, whatever came of it.
func (c *checker) written(path string) bool {
	_, ok := c.p.Origins.places[path]
	return ok
}

// exactly reports unless one and only one of two paths is written.
func (c *checker) exactly(path, a, b, doc string) {
	has, other := c.written(join(path, a)), c.written(join(path, b))
	switch {
	case has && other:
		c.fail(join(path, b), fmt.Sprintf("%s and %s are both given", a, b), "give one of them: "+doc)
	case !has && !other:
		c.fail(path, fmt.Sprintf("neither %s nor %s is given", a, b), doc)
	}
}

// named reports a name that is not in a list. other are further words allowed there.
func (c *checker) named(path, name, what string, allowed []string, other ...string) {
	c.used[what+" "+name] = true
	if !c.read(path) || slices.Contains(allowed, name) || slices.Contains(other, name) {
		return
	}
	c.fail(path, fmt.Sprintf("there is no %s %q", what, name), suggest(name, append(slices.Clone(allowed), other...)))
}

// idle warns of a change that sets a part which nothing in the plan has: its name is misspelt, or it changes nothing. A file may keep such parts for
// another day. Where something else is wrong it is not known what is used.
func (c *checker) idle() {
	if Failed(c.findings) {
		return
	}
	for _, of := range []struct {
		part, what string
		names      []string
	}{{"materials", "material", sortedKeys(c.p.Materials)}, {"glazings", "glazing", sortedKeys(c.p.Glazings)}, {"builds", "build", c.buildNames()}} {
		for _, name := range of.names {
			if n := c.p.root.get(of.part).get(name); n != nil && n.origin != Given && !c.used[of.what+" "+name] {
				c.warn(join(of.part, name), fmt.Sprintf("nothing in the plan has this %s, so that the change does nothing", of.what), misspelt(name, of.names))
			}
		}
	}
}

// misspelt is a hint for a name that is not used: the nearest of the others, or what it lacks.
func misspelt(name string, names []string) string {
	others := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == name })
	if near, ok := unit.Nearest(name, others); ok {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "change the part that is to have it too"
}

// listed is how many names a hint lists at most.
const listed = 12

// suggest is a hint for a name that is not in a list: the nearest one, those that hold it, or the beginning of the list.
func suggest(name string, all []string) string {
	if near, ok := unit.Nearest(name, all); ok {
		return fmt.Sprintf("did you mean %q?", near)
	}
	var holding []string
	for _, a := range all {
		if strings.Contains(a, name) {
			holding = append(holding, a)
		}
	}
	switch {
	case len(all) == 0:
		return "the plan has none"
	case len(holding) > 0:
		return "did you mean one of: " + strings.Join(holding[:min(listed, len(holding))], ", ") + "?"
	case len(all) > listed:
		return fmt.Sprintf("known: %s and %d more", strings.Join(all[:listed], ", "), len(all)-listed)
	}
	return "known: " + strings.Join(all, ", ")
}

// value is the quantity at a path for a message: as it was written, or as its default is.
func (c *checker) value(path string) string {
	v, _ := c.p.Origins.At(path)
	return v.Text
}

func sortedKeys[V any](m map[string]V) []string {
	names := make([]string, 0, len(m))
	for name := range m {
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}

func (c *checker) buildNames() []string { return sortedKeys(c.p.Builds) }

func (c *checker) glazingNames() []string {
	return append(sortedKeys(c.p.Glazings), c.known.Glazings...)
}

func (c *checker) materialNames() []string {
	return append(sortedKeys(c.p.Materials), c.known.Materials...)
}
