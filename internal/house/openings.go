package house

import (
	"suncellar/internal/plan"
)

// openings takes windows and doors out of their faces and adds them as faces of their own.
func (r *resolver) openings() {
	for i, w := range r.p.Windows {
		path := pathIndex("windows", i)
		if f := r.hole(path, w.Name, w.In, w.Width*w.Height*float64(w.Count)); f != nil {
			f.Build = nil
			r.glaze(f, w.Glazing, path+".glazing")
			r.h.Faces = append(r.h.Faces, *f)
		}
	}
	for i, d := range r.p.Doors {
		if f := r.hole(pathIndex("doors", i), d.Name, d.In, d.Width*d.Height); f != nil {
			// the U of a leaf is declared with both films
			f.Build = &Build{Name: d.Name, Layers: []Layer{{Name: "door leaf", R: max(0.02, 1/d.UValue-0.17)}},
				Inside: plan.Finish{Absorptance: 0.6, Emittance: 0.9}, Outside: plan.Finish{Absorptance: 0.6, Emittance: 0.9}}
			f.Door = true
			r.h.Faces = append(r.h.Faces, *f)
		}
	}
}

// hole cuts an area out of the part above grade of a face or end wall; the copy it gives back has that area.
func (r *resolver) hole(path, name, in string, area float64) *Face {
	for i := range r.h.Faces {
		host := &r.h.Faces[i]
		if host.Of != in || host.Behind == Soil || host.Glass != nil && host.Of != in {
			continue
		}
		if host.Area-area < 0.005*area {
			r.fail(path, "make it smaller", "%s has %.2f m², but %s has only %.2f m² left above grade", name, area, in, host.Area)
			return nil
		}
		host.Area -= area
		f := *host
		f.Name, f.Area, f.Glass, f.Glazing = name, area, nil, ""
		return &f
	}
	r.fail(path, "windows and doors go into a face above grade", "%s has no part above grade to hold %s", in, name)
	return nil
}

// takenOff marks the faces whose panels are off for a part of the year: a face or end wall above grade with all that is in it, or a window by itself.
func (r *resolver) takenOff() {
	for i := range r.p.TakenOff {
		o, found := &r.p.TakenOff[i], false
		for k := range r.h.Faces {
			f := &r.h.Faces[k]
			if f.Behind == Air && (f.Name == o.Face || f.Of == o.Face) {
				f.Off, found = o, true
				r.instead(f, o, pathIndex("taken_off", i)+".instead")
			}
		}
		if !found {
			r.fail(pathIndex("taken_off", i)+".face", "only what has outdoor air behind it can be taken off", "%s has no part with outdoor air behind it", o.Face)
		}
	}
}

// instead gives a face that is taken off the glazing that hangs there meanwhile.
func (r *resolver) instead(f *Face, o *plan.TakenOff, path string) {
	switch {
	case o.Instead == "":
	case f.Glass == nil:
		r.fail(path, "name a glazed face or window, or leave instead out", "%s is not glazed, and no glazing can hang there meanwhile", f.Name)
	default:
		g, err := Glass(r.p, o.Instead)
		if err != nil {
			r.fail(path, "", "%s", err.Error())
			return
		}
		f.Instead = &g
	}
}
