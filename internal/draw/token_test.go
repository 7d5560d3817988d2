package draw

import (
	"math"
	"testing"
)

// Wanted: exact by the definition for black on white; #767676 on white is the
// grey commonly named as the darkest that just passes 4.5 (4.54, from memory).
func TestContrast(t *testing.T) {
	for _, c := range []struct {
		a, b      RGB
		want, tol float64
	}{
		{RGB{0, 0, 0}, RGB{255, 255, 255}, 21, 1e-12},
		{RGB{255, 255, 255}, RGB{0, 0, 0}, 21, 1e-12},
		{RGB{9, 8, 7}, RGB{9, 8, 7}, 1, 0},
		{RGB{0x76, 0x76, 0x76}, RGB{255, 255, 255}, 4.54, 0.005},
	} {
		if got := Contrast(c.a, c.b); math.Abs(got-c.want) > c.tol {
			t.Errorf("contrast of %v and %v is %.3f, want %.3f", c.a, c.b, got, c.want)
		}
	}
}

// Wanted: the palette's own promise: body text 7, other text 4.5, lines and
// fills that carry meaning 3, on the page and on panels, in both themes.
func TestPaletteKeepsItsContrast(t *testing.T) {
	for _, c := range []struct {
		token Token
		least float64
	}{
		{Ink, 7}, {Ink2, 4.5}, {Earth, 4.5}, {Water, 4.5}, {Leaf, 4.5}, {Frost, 4.5}, {Alarm, 4.5}, {Sun, 3},
	} {
		for _, theme := range []Theme{Light, Dark} {
			for _, page := range []Token{Ground, Ground2} {
				if got := Contrast(Color(c.token, theme), Color(page, theme)); got < c.least {
					t.Errorf("%v on %v in theme %d: contrast %.2f, must be at least %g", c.token, page, theme, got, c.least)
				}
			}
		}
	}
}

// Wanted: the figures written beside the palette, to the digit given there.
func TestPaletteFigures(t *testing.T) {
	for _, c := range []struct {
		token, page Token
		theme       Theme
		want        float64
	}{
		{Ink, Ground, Light, 15.4}, {Ink, Ground, Dark, 14.8}, {Ink2, Ground, Light, 7.3}, {Ink2, Ground2, Light, 6.7},
		{Earth, Ground, Light, 5.2}, {Earth, Ground, Dark, 6.7}, {Water, Ground, Light, 5.7}, {Water, Ground, Dark, 8.3},
		{Sun, Ground, Light, 3.9}, {Sun, Ground2, Light, 3.6}, {Sun, Ground, Dark, 10.3}, {Leaf, Ground, Light, 5.4},
		{Leaf, Ground, Dark, 8.7}, {Frost, Ground, Light, 5.8}, {Frost, Ground, Dark, 8.3}, {Alarm, Ground, Light, 6.1}, {Alarm, Ground, Dark, 7.4},
	} {
		if got := Contrast(Color(c.token, c.theme), Color(c.page, c.theme)); math.Abs(got-c.want) > 0.1 {
			t.Errorf("%v on %v in theme %d: contrast %.2f, want %.1f", c.token, c.page, c.theme, got, c.want)
		}
	}
}

// In grey print the scale must still read: darker the further from 0 °C, with
// the two lightest colours at the break.
func TestTemperatureScaleReadsInGrey(t *testing.T) {
	for tok := Cold6; tok < Warm6; tok++ {
		a, b := luminance(Color(tok, Light)), luminance(Color(tok+1, Light))
		if rising := tok < Warm1; (b > a) != rising {
			t.Errorf("luminance from %v to %v goes %.3f to %.3f, rising must be %v", tok, tok+1, a, b, rising)
		}
	}
}

func TestMarksStandOutOnTheScale(t *testing.T) {
	for tok := Cold6; tok <= Warm6; tok++ {
		for _, theme := range []Theme{Light, Dark} {
			if got := Contrast(Color(MarkOn(tok), theme), Color(tok, theme)); got < 3.5 {
				t.Errorf("mark on %v: contrast %.2f, must be at least 3.5", tok, got)
			}
		}
	}
}

func TestTokenNamesAreUnique(t *testing.T) {
	seen := map[string]Token{}
	for _, tok := range Tokens() {
		if other, ok := seen[tok.String()]; ok {
			t.Errorf("tokens %d and %d are both named %q", tok, other, tok)
		}
		seen[tok.String()] = tok
	}
	if Cold1.String() != "cold1" || Cold6.String() != "cold6" || Warm1.String() != "warm1" || Warm6.String() != "warm6" {
		t.Errorf("scale is named %v %v %v %v", Cold1, Cold6, Warm1, Warm6)
	}
}
