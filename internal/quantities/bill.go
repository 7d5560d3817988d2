package quantities

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"suncellar/internal/house"
	"suncellar/internal/unit"
)

// Item is what a house has of one thing of one sort, in every measure that it may be sold in. What is 0 is no measure of it.
type Item struct {
	Name             string    // of the thing, as a plan writes it: "xps", "twin_wall_8mm", "drum 55 gal"; else one of Things
	Sort             string    // what tells it from others of its name, as it would be written: "75 mm", "R-4"; "" where nothing does
	Kind             unit.Kind // of Sort; 0 where it is no quantity
	SI               float64   // of Sort
	Count, M, M2, M3 float64
}

// String is the name with the sort.
func (i Item) String() string {
	if i.Sort == "" {
		return i.Name
	}
	return i.Name + ", " + i.Sort
}

// Things that have no name of their own in a plan.
const (
	Digging    = "digging"  // earth that the room takes the place of
	Water      = "water"    // in the store
	BedSoil    = "bed soil" // above the floor
	NightCover = "cover"    // over all glazing
	DoorLeaf   = "door"
	Vent       = "vent"
	WaxOpener  = "wax opener"
	Inlet      = "inlet"
	Fan        = "fan"
	Heat       = "heat"
	Tube       = "tube"
	OwnDrum    = "drum of your own"
	Bare       = "given resistance" // a layer that has no material
)

// Things lists them.
func Things() []string {
	return []string{Digging, Water, BedSoil, NightCover, DoorLeaf, Vent, WaxOpener, Inlet, Fan, Heat, Tube, OwnDrum, Bare}
}

// Bill is everything of a house that has a quantity, by name and sort. Areas are those of the room's faces, net of windows and doors: offcuts, corners, fastenings,
// paint and work are in none.
func Bill(h *house.House) []Item {
	b := &bill{}
	b.faces(h)
	b.ground(h)
	b.air(h)
	b.store(h)
	for _, bed := range h.Beds {
		b.add(Item{Name: BedSoil, M3: bed.Area * math.Max(0, bed.Z-h.FloorZ), M2: bed.Area})
	}
	slices.SortFunc(b.items, func(x, y Item) int {
		return cmp.Or(cmp.Compare(x.Name, y.Name), cmp.Compare(x.SI, y.SI), cmp.Compare(x.Sort, y.Sort))
	})
	return b.items
}

type bill struct{ items []Item }

// add adds to what there is of the same sort.
func (b *bill) add(i Item) {
	if i.Count == 0 && i.M == 0 && i.M2 == 0 && i.M3 == 0 {
		return
	}
	for k := range b.items {
		if o := &b.items[k]; o.Name == i.Name && o.Sort == i.Sort {
			o.Count, o.M, o.M2, o.M3 = o.Count+i.Count, o.M+i.M, o.M2+i.M2, o.M3+i.M3
			return
		}
	}
	b.items = append(b.items, i)
}

// millimetres is a thickness or a width as it is sold.
func millimetres(m float64) string {
	return strconv.FormatFloat(math.Round(m*1e4)/10, 'f', -1, 64) + " mm"
}

// layer adds an area of a layer.
func (b *bill) layer(l house.Layer, m2 float64) {
	if l.Name == Bare {
		b.add(Item{Name: Bare, Sort: fmt.Sprintf("%.4g m2K/W", l.R), Kind: unit.Resistance, SI: l.R, M2: m2})
		return
	}
	b.add(Item{Name: house.Key(l.Name), Sort: millimetres(l.Thickness), Kind: unit.Length, SI: l.Thickness, M2: m2, M3: m2 * l.Thickness})
}

func (b *bill) faces(h *house.House) {
	covered := 0.0
	for i := range h.Faces {
		f := &h.Faces[i]
		switch {
		case f.Glass != nil:
			b.add(Item{Name: house.Key(f.Glazing), M2: f.Area})
			if f.Off != nil && f.Instead != nil {
				b.add(Item{Name: house.Key(f.Off.Instead), M2: f.Area})
			}
			covered += f.Area
		case f.Door:
		case f.Build != nil:
			for _, l := range f.Build.Layers {
				b.layer(l, f.Area)
			}
		}
	}
	p := h.Plan
	for _, d := range p.Doors {
		b.add(Item{Name: DoorLeaf, Sort: fmt.Sprintf("%.4g W/m2K", d.UValue), Kind: unit.Transmittance, SI: d.UValue, Count: 1, M2: d.Width * d.Height})
	}
	if c := p.Cover; c != nil {
		b.add(Item{Name: NightCover, Sort: fmt.Sprintf("%.4g m2K/W", c.RValue), Kind: unit.Resistance, SI: c.RValue, M2: covered})
	}
}

func (b *bill) ground(h *house.House) {
	b.add(Item{Name: Digging, M3: h.Dug()})
	for _, f := range h.Footings {
		for _, box := range f.Boxes {
			wide, high := box[2].X-box[0].X, box[2].Z-box[0].Z
			b.add(Item{Name: house.Key(f.Layer.Name), Sort: millimetres(high), Kind: unit.Length, SI: high, M2: wide * h.Length, M3: wide * high * h.Length})
		}
	}
	for _, d := range h.Plan.Ground.Boards {
		m2 := d.Reach * h.Length
		b.add(Item{Name: house.Key(d.Material), Sort: millimetres(d.Thickness), Kind: unit.Length, SI: d.Thickness, M2: m2, M3: m2 * d.Thickness})
	}
}

// air adds what air goes through, and what gives heat.
func (b *bill) air(h *house.House) {
	p := h.Plan
	watts := func(name string, w float64) Item {
		return Item{Name: name, Sort: fmt.Sprintf("%.4g W", w), Kind: unit.Power, SI: w, Count: 1}
	}
	for _, v := range p.Vents {
		b.add(Item{Name: Vent, Sort: fmt.Sprintf("%.4g m2", v.Area), Kind: unit.Area, SI: v.Area, Count: 1, M2: v.Area})
		if v.Wax != nil {
			b.add(Item{Name: WaxOpener, Count: 1})
		}
	}
	for _, i := range p.Inlets {
		b.add(Item{Name: Inlet, Sort: millimetres(i.Diameter), Kind: unit.Length, SI: i.Diameter, Count: 1})
	}
	for _, f := range p.Fans {
		b.add(watts(Fan, f.Power))
	}
	for _, f := range p.Heat {
		b.add(watts(Heat, f.Power))
	}
	for _, t := range p.Tubes {
		b.add(Item{Name: Tube, Sort: millimetres(t.Diameter), Kind: unit.Length, SI: t.Diameter, Count: float64(t.Count), M: float64(t.Count) * t.Length})
		if t.Fan != nil {
			b.add(watts(Fan, t.Fan.Power))
		}
	}
}

func (b *bill) store(h *house.House) {
	b.add(Item{Name: Water, M3: h.Water()})
	if h.Plan.Store == nil {
		return
	}
	for _, r := range h.Plan.Store.Rows {
		i := Item{Name: r.Size, Count: float64(r.Drums)}
		if r.Diameter != nil && r.Height != nil {
			i.Name, i.Sort = OwnDrum, millimetres(*r.Diameter)+" x "+millimetres(*r.Height)
		}
		b.add(i)
	}
}
