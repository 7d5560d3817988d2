package report

import (
	"fmt"
	"math"
	"strings"

	"suncellar/internal/drawing"
	"suncellar/internal/house"
	"suncellar/internal/plan"
)

// wool is the conductivity of the insulation that a bare resistance is drawn as thick as [W/mK]: mineral wool and common boards lie about it (own judgement, for the drawing alone).
const wool = 0.04

// drawnThick is how thick a layer is drawn [m].
func drawnThick(l house.Layer) float64 {
	if l.Thickness > 0 {
		return l.Thickness
	}
	return l.R * wool
}

// resistance is a resistance that gains what wool of that thickness has.
func resistance(path string, value float64) drawing.Set {
	lo, hi, _ := plan.Allowed(path)
	return drawing.Set{Path: path, Value: value, PerMetre: 1 / wool, Resistance: true, Lo: lo, Hi: hi}
}

// boards have their ends and their outer sides to be taken hold of, lying ones their depth too.
func (g *grabber) boards() {
	for i, b := range g.h.Plan.Ground.Boards {
		part := fmt.Sprintf("ground.boards[%d]", i)
		x, out := g.h.Front, front()
		if b.At == "back" {
			x, out = g.h.Back, back()
		}
		reach, thick := length(part+".reach", b.Reach), length(part+".thickness", b.Thickness)
		if b.Lay == "lying" {
			g.add("board", "board in the ground: how far out, how deep", part, x+out.X*b.Reach, -b.Depth-b.Thickness/2, way(out, reach), way(down(), length(part+".depth", b.Depth)))
			g.add("board", "board in the ground: how thick", part, x+out.X*b.Reach/2, -b.Depth-b.Thickness, way(down(), thick))
			continue
		}
		g.add("board", "board in the ground: how deep", part, x+out.X*b.Thickness/2, -b.Reach, way(down(), reach))
		g.add("board", "board in the ground: how thick", part, x+out.X*b.Thickness, -b.Reach/2, way(out, thick))
	}
}

// layers have the outer side of each layer of each build, once a build and edge, spread along its greatest face.
func (g *grabber) layers() {
	greatest := map[[2]string]*house.Face{}
	for i := range g.h.Faces {
		f := &g.h.Faces[i]
		if f.End != 0 || f.Build == nil || f.Door || len(layerPaths(g.h, f.Build)) != len(f.Build.Layers) {
			continue
		}
		key := [2]string{f.Of, f.Build.Name}
		if best := greatest[key]; best == nil || f.Area > best.Area+1e-9 {
			greatest[key] = f
		}
	}
	for i := range g.h.Faces {
		f := &g.h.Faces[i]
		if f.Build != nil && greatest[[2]string{f.Of, f.Build.Name}] == f {
			g.layersOf(f)
		}
	}
}

// layerPaths are the values that say how thick each layer of a build is, or what it resists.
func layerPaths(h *house.House, b *house.Build) []string {
	part, of := plan.Join("builds", b.Name), h.Plan.Builds[b.Name]
	if of.RValue != nil {
		return []string{part + ".r_value"}
	}
	var list []string
	for k, l := range of.Layers {
		key := "thickness"
		if l.RValue != nil {
			key = "r_value"
		}
		list = append(list, fmt.Sprintf("%s.layers[%d].%s", part, k, key))
	}
	return list
}

func (g *grabber) layersOf(f *house.Face) {
	out := outward(f)
	part := plan.Join("builds", f.Build.Name)
	at, paths := 0.0, layerPaths(g.h, f.Build)
	n := float64(len(f.Build.Layers) + 1)
	for k, layer := range f.Build.Layers {
		thick := drawnThick(layer)
		if thick <= 0 {
			continue
		}
		at += thick
		share := float64(k+1) / n // side by side, so that each can be taken hold of
		x, z := f.A.X+share*(f.B.X-f.A.X)+out.X*at, f.A.Z+share*(f.B.Z-f.A.Z)+out.Z*at
		if strings.HasSuffix(paths[k], ".r_value") {
			g.add("layer", f.Of+": what its insulation resists", part, x, z, way(out, resistance(paths[k], layer.R)))
			continue
		}
		g.add("layer", fmt.Sprintf("%s: how thick its %s is", f.Of, strings.ReplaceAll(layer.Name, "_", " ")), part, x, z, way(out, length(paths[k], layer.Thickness)))
	}
}

// outward is the unit normal of a face away from the room, which is to the left of it.
func outward(f *house.Face) drawing.Point {
	l := math.Hypot(f.B.X-f.A.X, f.B.Z-f.A.Z)
	return drawing.Point{X: (f.B.Z - f.A.Z) / l, Z: -(f.B.X - f.A.X) / l}
}

// cover hangs at the glazing: how much it resists. Without one its place can be taken hold of, to put one on.
func (g *grabber) cover() {
	for i := range g.h.Faces {
		f := &g.h.Faces[i]
		if f.Glass == nil || f.End != 0 {
			continue
		}
		const share = 0.4 // beside the middle, where an edge has its own
		x, z := f.A.X+share*(f.B.X-f.A.X), f.A.Z+share*(f.B.Z-f.A.Z)
		c := g.h.Plan.Cover
		if c == nil {
			g.add("cover", "night cover", "cover", x, z)
			return
		}
		out, off := outward(f), c.RValue*wool
		if c.Side != "outside" {
			out = drawing.Point{X: -out.X, Z: -out.Z}
		}
		g.add("cover", "night cover", "cover", x+out.X*off, z+out.Z*off, way(out, resistance("cover.r_value", c.RValue)))
		return
	}
}
