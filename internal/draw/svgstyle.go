package draw

import "fmt"

// use is what a list needs defined before its items.
type use struct {
	fills, strokes [tokenCount]bool
	hatches        [hatchCount][tokenCount]bool
}

func findUse(l *List) *use {
	u := &use{}
	u.fills[Ground] = true
	l.Walk(func(it Item) {
		switch v := it.(type) {
		case *Line:
			u.strokes[v.Pen.Ink] = true
		case *Area:
			u.shape(v.Fill, v.Hatch, v.HatchInk, v.Pen)
		case *Circle:
			u.shape(v.Fill, v.Hatch, v.HatchInk, v.Pen)
		case *Text:
			u.text(v)
		case *Dimension:
			u.strokes[Ink], u.strokes[Ink2], u.strokes[Ground], u.fills[Ink] = true, true, true, true
		}
	})
	return u
}

func (u *use) shape(fill Token, hatch Hatch, ink Token, pen Pen) {
	u.fills[fill] = true
	u.strokes[pen.Ink] = true
	if hatch != Plain {
		u.hatches[hatch][orInk(ink)] = true
		u.strokes[orInk(ink)] = true
	}
}

func (u *use) text(t *Text) {
	u.fills[orInk(t.Ink)] = true
	u.strokes[t.Halo] = true
}

func orInk(t Token) Token {
	if t == None {
		return Ink
	}
	return t
}

// style writes the palette as custom properties of the root and one class per
// token in use. Each class names the light colour first, for a reader that
// knows no custom properties. Every rule starts at the root's class, so a
// picture set into a page leaves the page alone.
func (s *svgWriter) style(u *use, theme Theme) {
	s.printf("<style>\n.sc-picture{%s%s}\n", palette(theme),
		"font-family:system-ui,-apple-system,\"Segoe UI\",Roboto,\"Noto Sans\",\"Helvetica Neue\",Arial,sans-serif;"+
			"font-variant-numeric:tabular-nums;max-width:100%;height:auto;color-scheme:"+scheme(theme))
	if theme == Auto {
		s.printf("@media screen and (prefers-color-scheme:dark){.sc-picture{%s}}\n", palette(Dark))
	}
	s.printf("@media print{.sc-picture{%s--sc-ground:#ffffff;print-color-adjust:exact}}\n", palette(Light))
	s.printf(".sc-picture .n{fill:none}.sc-picture .h{fill:none;pointer-events:all}.sc-picture .m{text-anchor:middle}.sc-picture .e{text-anchor:end}" +
		".sc-picture .b{font-weight:600}.sc-picture .o{paint-order:stroke;stroke-width:4px;stroke-linejoin:round}\n")
	for _, t := range Tokens() {
		if u.fills[t] {
			s.printf(".sc-picture .f-%s{fill:%s;fill:var(--sc-%s)}\n", t, Color(t, theme), t)
		}
		if u.strokes[t] {
			s.printf(".sc-picture .s-%s{stroke:%s;stroke:var(--sc-%s)}\n", t, Color(t, theme), t)
		}
	}
	s.printf("</style>\n")
}

func scheme(t Theme) string {
	switch t {
	case Light:
		return "light"
	case Dark:
		return "dark"
	default:
		return "light dark"
	}
}

// palette returns the custom properties of every token in a theme.
func palette(theme Theme) string {
	out := ""
	for _, t := range Tokens() {
		out += fmt.Sprintf("--sc-%s:%s;", t, Color(t, theme))
	}
	return out
}

func patternID(id string, h Hatch, ink Token) string {
	return fmt.Sprintf("%s-%s-%s", id, h, orInk(ink))
}

// defs writes a pattern for each hatch and ink in use.
func (s *svgWriter) defs(u *use) {
	s.printf("<defs>\n")
	for h := Plain + 1; h < hatchCount; h++ {
		for _, ink := range Tokens() {
			if u.hatches[h][ink] {
				s.pattern(h, ink)
			}
		}
	}
	s.printf("</defs>\n")
}

func (s *svgWriter) pattern(h Hatch, ink Token) {
	t := h.Tile()
	s.printf("<pattern id=\"%s\" width=\"%s\" height=\"%s\" patternUnits=\"userSpaceOnUse\"><path class=\"n s-%s\" stroke-width=\"%s\" stroke-linecap=\"round\" d=\"",
		patternID(s.id, h, ink), num(t.Width), num(t.Height), ink, num(t.Pen))
	for _, stroke := range t.Strokes {
		for i, p := range stroke {
			cmd := "L"
			if i == 0 {
				cmd = "M"
			}
			s.printf("%s%s %s", cmd, num(p.X), num(p.Y))
		}
		if len(stroke) == 1 {
			s.printf("h0.1")
		}
	}
	s.printf("\"/></pattern>\n")
}
