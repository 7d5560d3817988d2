package draw

import (
	"fmt"
	"math"
)

// Token names a colour by what it means; the theme says which colour it is.
type Token int

// Tokens. The six Cold and six Warm ones are the temperature scale, broken at
// 0 °C: Cold1 is just below freezing, Cold6 the coldest; Warm1 is just above.
// OnDark and OnLight are inks for marks on the temperature scale (hatch,
// figures); they and the scale are the same in both themes.
const (
	None    Token = iota // nothing is drawn
	Ground               // page
	Ground2              // panels, stripes
	Ink                  // text, drawing lines
	Ink2                 // labels, axes
	Rule                 // hairlines that carry no meaning
	Earth                // ground, walls
	Water                // store, rain
	Sun                  // light: lines and fills, never text
	Leaf                 // beds, crops
	Frost                // below freezing
	Alarm                // danger to people, lost data: nothing else
	Cold6
	Cold5
	Cold4
	Cold3
	Cold2
	Cold1
	Warm1
	Warm2
	Warm3
	Warm4
	Warm5
	Warm6
	OnDark
	OnLight
	tokenCount
)

// Theme is a set of colours for all tokens.
type Theme int

// Themes. Auto leaves the choice to whoever shows the picture.
const (
	Auto Theme = iota
	Light
	Dark
)

// RGB is a colour of 8 bits a channel (sRGB).
type RGB struct{ R, G, B uint8 }

// String returns the colour as #rrggbb.
func (c RGB) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// swatch is the row of one token: its name and its colour in both themes.
type swatch struct {
	name        string
	light, dark uint32
}

// swatchOf returns the row of a token. A function and not a table, so that
// nobody can write to it.
func swatchOf(t Token) swatch {
	switch t {
	case Ground:
		return swatch{"ground", 0xf9f7ee, 0x13161d}
	case Ground2:
		return swatch{"ground2", 0xf0ede0, 0x1d222a}
	case Ink:
		return swatch{"ink", 0x261d16, 0xeae8e1}
	case Ink2:
		return swatch{"ink2", 0x5c5044, 0xaeaba0}
	case Rule:
		return swatch{"rule", 0xccc7b9, 0x383d48}
	case Earth:
		return swatch{"earth", 0x836145, 0xb99777}
	case Water:
		return swatch{"water", 0x1f6a86, 0x6abad9}
	case Sun:
		return swatch{"sun", 0xa96f0c, 0xebbd57}
	case Leaf:
		return swatch{"leaf", 0x427037, 0x8bc27f}
	case Frost:
		return swatch{"frost", 0x4f5aac, 0x9eacf1}
	case Alarm:
		return swatch{"alarm", 0xaf2b25, 0xf68678}
	case OnDark:
		return swatch{"ondark", 0xf9f7ee, 0xf9f7ee}
	case OnLight:
		return swatch{"onlight", 0x261d16, 0x261d16}
	}
	return scaleSwatch(t)
}

// scaleSwatch returns the row of a token of the temperature scale.
func scaleSwatch(t Token) swatch {
	colours := [...]uint32{
		0x20296f, 0x344888, 0x4c67a0, 0x6887b9, 0x87a7d2, 0xa9c7eb,
		0xefe9c3, 0xddc793, 0xcea266, 0xc07c3c, 0xb05318, 0x9a2806,
	}
	if t < Cold6 || t > Warm6 {
		panic("draw: token without a colour")
	}
	name := fmt.Sprintf("cold%d", Cold1-t+1)
	if t >= Warm1 {
		name = fmt.Sprintf("warm%d", t-Warm1+1)
	}
	c := colours[t-Cold6]
	return swatch{name, c, c}
}

// Tokens returns every token that has a colour, in order.
func Tokens() []Token {
	ts := make([]Token, 0, tokenCount-1)
	for t := None + 1; t < tokenCount; t++ {
		ts = append(ts, t)
	}
	return ts
}

// String returns the name of the token as it stands in the file.
func (t Token) String() string {
	if t == None {
		return "none"
	}
	return swatchOf(t).name
}

// Color returns the colour of a token in a theme; Auto counts as Light.
// None has no colour: asking for it is a mistake of the caller and panics.
func Color(t Token, theme Theme) RGB {
	c := swatchOf(t).light
	if theme == Dark {
		c = swatchOf(t).dark
	}
	return RGB{uint8(c >> 16), uint8(c >> 8), uint8(c)}
}

// Contrast returns the contrast ratio of two colours, 1 (same) to 21 (black
// on white).
//
//	(L1 + 0.05) / (L2 + 0.05), L = 0.2126 R + 0.7152 G + 0.0722 B, linear
//
// Source: W3C, Web Content Accessibility Guidelines 2.1 (2018), "contrast
// ratio" and "relative luminance".
func Contrast(a, b RGB) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(c RGB) float64 {
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

func linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.03928 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// MarkOn returns the ink for marks on a fill: OnDark or OnLight for the
// temperature scale, whichever stands out more, Ink for everything else.
func MarkOn(fill Token) Token {
	if fill < Cold6 || fill > Warm6 {
		return Ink
	}
	c := Color(fill, Light)
	if Contrast(c, Color(OnDark, Light)) > Contrast(c, Color(OnLight, Light)) {
		return OnDark
	}
	return OnLight
}
