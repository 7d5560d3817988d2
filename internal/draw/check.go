package draw

import (
	"fmt"
	"math"
)

// Check tells what would keep the list from being drawn: an empty sheet, a
// position or size that is not finite, an unknown token or hatch, a name that
// cannot stand in an id. It reports the first finding, nil if there is none.
func (l *List) Check() error {
	if !isName(l.Name) {
		return fmt.Errorf("picture name %q, must be letters, digits and hyphens, a letter first", l.Name)
	}
	if !finite(l.scale()) || l.scale() <= 0 {
		return fmt.Errorf("picture %s: scale %g, must be above 0", l.Name, l.Scale)
	}
	if w, h := l.Size(); !finite(w, h) || w <= 0 || h <= 0 {
		return fmt.Errorf("picture %s: sheet %g by %g px, must be above 0", l.Name, w, h)
	}
	var err error
	n := 0
	l.Walk(func(it Item) {
		if e := checkItem(it); e != nil && err == nil {
			err = fmt.Errorf("picture %s: item %d (%T): %w", l.Name, n, it, e)
		}
		n++
	})
	return err
}

func checkItem(it Item) error {
	switch v := it.(type) {
	case *Line:
		if len(v.Points) < 2 {
			return fmt.Errorf("%d points, must be 2 or more", len(v.Points))
		}
		return firstError(checkPoints(v.Points), checkPen(v.Pen))
	case *Area:
		for _, r := range v.Rings {
			if len(r) < 3 {
				return fmt.Errorf("ring of %d points, must be 3 or more", len(r))
			}
			if err := checkPoints(r); err != nil {
				return err
			}
		}
		return firstError(checkTokens(v.Fill, v.HatchInk), checkHatch(v.Hatch), checkPen(v.Pen))
	case *Circle:
		if !finite(v.Radius) || v.Radius < 0 {
			return fmt.Errorf("radius %g, must be 0 or more", v.Radius)
		}
		return firstError(checkPoints([]Point{v.Center}), checkTokens(v.Fill, v.HatchInk), checkHatch(v.Hatch), checkPen(v.Pen))
	case *Text:
		if !finite(v.Size, v.Turn) || v.Size <= 0 {
			return fmt.Errorf("text %q: size %g px, must be above 0", v.Text, v.Size)
		}
		return firstError(checkPoints([]Point{v.At}), checkTokens(v.Ink, v.Halo))
	case *Dimension:
		if !finite(v.Offset) {
			return fmt.Errorf("dimension %q: offset %g px, must be finite", v.Text, v.Offset)
		}
		return checkPoints([]Point{v.A, v.B})
	case *Group:
		if v.Class != "" && !isName(v.Class) {
			return fmt.Errorf("class %q, must be letters, digits and hyphens, a letter first", v.Class)
		}
		if v.Clip != nil {
			return checkPoints([]Point{v.Clip.Min, v.Clip.Max})
		}
		return nil
	default:
		return fmt.Errorf("unknown kind of item")
	}
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func checkPoints(ps []Point) error {
	for _, p := range ps {
		if !finite(p.X, p.Y) {
			return fmt.Errorf("position (%g, %g), must be finite", p.X, p.Y)
		}
	}
	return nil
}

func checkTokens(ts ...Token) error {
	for _, t := range ts {
		if t < None || t >= tokenCount {
			return fmt.Errorf("token %d, must be one of the %d tokens", t, tokenCount)
		}
	}
	return nil
}

func checkHatch(h Hatch) error {
	if h < Plain || h >= hatchCount {
		return fmt.Errorf("hatch %d, must be one of the %d hatches", h, hatchCount)
	}
	return nil
}

func checkPen(p Pen) error {
	if !finite(p.Width) || p.Width < 0 || !finite(p.Dash...) {
		return fmt.Errorf("pen of %g px, must be 0 or more with finite dashes", p.Width)
	}
	return checkTokens(p.Ink)
}

func finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// isName tells whether s can stand in an id or class of any format.
func isName(s string) bool {
	for i, c := range s {
		letter := 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
		if !letter && (i == 0 || c != '-' && (c < '0' || c > '9')) {
			return false
		}
	}
	return s != ""
}
