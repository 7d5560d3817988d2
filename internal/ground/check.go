package ground

import "fmt"

// check refuses what cannot be cut.
func (s *Slice) check() error {
	if !(s.X1 > s.X0 && s.Z1 > s.Z0) || !finite(s.X0, s.X1, s.Z0, s.Z1) {
		return fmt.Errorf("slice: box is %g to %g by %g to %g m, ends must be finite and after begins", s.X0, s.X1, s.Z0, s.Z1)
	}
	if !(s.Width > 0) || !finite(s.Width) {
		return fmt.Errorf("slice: width is %g m, must be above 0", s.Width)
	}
	if !(s.Finest > 0) || !finite(s.Finest) {
		return fmt.Errorf("slice: finest cell is %g m, must be above 0", s.Finest)
	}
	if !(s.Growth >= 0) || !finite(s.Growth) {
		return fmt.Errorf("slice: growth is %g, must be at least 0", s.Growth)
	}
	if s.Coarsest != 0 && !(s.Coarsest >= s.Finest) || !finite(s.Coarsest) {
		return fmt.Errorf("slice: coarsest cell is %g m, must be at least the finest, %g m", s.Coarsest, s.Finest)
	}
	if s.Coarsest == 0 && s.Finest > 1 {
		return fmt.Errorf("slice: finest cell is %g m, must be at most 1 m where no coarsest is given", s.Finest)
	}
	if !finite(s.FineX...) || !finite(s.FineZ...) || !finite(s.LinesZ...) {
		return fmt.Errorf("slice: a line is not finite")
	}
	return s.checkParts()
}

func (s *Slice) checkParts() error {
	if err := s.Fill.check(); err != nil {
		return fmt.Errorf("slice: fill: %w", err)
	}
	for i, r := range s.Rects {
		if err := r.Medium.check(); err != nil {
			return fmt.Errorf("slice: rectangle %d: %w", i, err)
		}
		if !(r.X1 > r.X0 && r.Z1 > r.Z0) || !finite(r.X0, r.X1, r.Z0, r.Z1) {
			return fmt.Errorf("slice: rectangle %d is %g to %g by %g to %g m, ends must be after begins", i, r.X0, r.X1, r.Z0, r.Z1)
		}
	}
	for i, h := range s.Holes {
		if len(h) < 3 {
			return fmt.Errorf("slice: hole %d has %d corners, must have at least 3", i, len(h))
		}
		for _, p := range h {
			if !finite(p.X, p.Z) {
				return fmt.Errorf("slice: hole %d has a corner that is not finite", i)
			}
		}
	}
	for i, r := range s.Rims {
		if !(r.R >= 0) || !finite(r.R) {
			return fmt.Errorf("slice: rim %d: resistance is %g m²K/W, must be at least 0", i, r.R)
		}
		if r.Port < 0 {
			return fmt.Errorf("slice: rim %d: port is %d, must be at least 0", i, r.Port)
		}
		if !finite(r.A.X, r.A.Z, r.B.X, r.B.Z) || r.length() <= near {
			return fmt.Errorf("slice: rim %d has no length", i)
		}
	}
	return nil
}

func (m *Medium) check() error {
	if !(m.K > 0) || !finite(m.K) || !(m.KFrozen >= 0) || !finite(m.KFrozen) {
		return fmt.Errorf("conductivity is %g W/mK, frozen %g W/mK, must be above 0", m.K, m.KFrozen)
	}
	if !(m.C >= 0) || !finite(m.C) || !(m.CFrozen >= 0) || !finite(m.CFrozen) {
		return fmt.Errorf("heat capacity is %g J/m³K, frozen %g J/m³K, must be at least 0", m.C, m.CFrozen)
	}
	if !(m.Latent >= 0) || !finite(m.Latent) {
		return fmt.Errorf("heat of freezing is %g J/m³, must be at least 0", m.Latent)
	}
	if m.Latent > 0 && !(m.Upper > m.Lower) || !finite(m.Upper, m.Lower) {
		return fmt.Errorf("freezes from %g to %g °C, must end below its begin", m.Upper, m.Lower)
	}
	return nil
}

func finite(values ...float64) bool {
	for _, v := range values {
		if v-v != 0 {
			return false
		}
	}
	return true
}
