package plan

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// planTexts are the good plans that edits are tried on: those of the tests, the examples, and those of the validation.
func planTexts(t *testing.T) map[string]string {
	t.Helper()
	texts := map[string]string{"pit": pit, "box": box}
	for _, pattern := range []string{"../../examples/*.yaml", "../../validation/plans/*.yaml"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: %v, %v", pattern, names, err)
		}
		for _, name := range names {
			if filepath.Base(name) == "prices.yaml" {
				continue // lies beside the plans, and is none
			}
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			texts[filepath.Base(name)] = string(text)
		}
	}
	return texts
}

// restyled writes a plan anew: keys and lists in brackets or on lines, quotes, comments.
func restyled(text string, seed uint64) string {
	r := rand.New(rand.NewPCG(seed, 9))
	root, _ := document("p", []byte(text))
	var b strings.Builder
	b.WriteString("# a plan")
	for _, i := range r.Perm(len(root.entries)) {
		b.WriteString("\n" + root.entries[i].key + ":")
		rewrite(r, &b, root.entries[i].value, 2)
	}
	return b.String() + "\n"
}

// hostile are values that YAML would take for something else, or that a number is not.
var hostile = []string{"a: b", "x #1", "- y", "-", "yes", "no", "*a", "&b", "!c", "x, y", "it's", `"`, `a "b" c`, "12", "12-24", "é", "{", "[1", "a]", ": x", "?", "| x", "> y", "~", "null", "%", "@", "`", "back\\slash", "a:", ":a", "#", "two\nlines", "tab\there", "-9 degF", "R-19", "1,2 m", "0x1F", "<<", "=", "---", "...", "   "}

// whole are parts and items that a plan may get.
var whole = []Change{
	{Path: "cover", Value: "{r_value: R-4}"}, {Path: "cover.r_value", Value: "R-3"}, {Path: "site.horizon", Value: "[{azimuth: 0 deg, elevation: 5 deg}, {azimuth: 90 deg, elevation: 3 deg}]"},
	{Path: "snow", Value: "{list: []}"}, {Path: "snow.list", Value: "[]"}, {Path: "run.seed", Value: "3"}, {Path: "run", Value: "winter"}, {Path: "run.span", Value: "whole year"}, {Path: "beds", Value: "[]"},
	{Path: "ends.left.build", Value: "wall"}, {Path: "site.soil", Value: "{texture: clay}"}, {Path: "unknown.dirt", Value: "off"}, {Path: "sun_shares.a, b: c", Value: "1 %"},
	{Path: "climate.wet_days", Value: "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]"}, {Path: "cold_sink.depth", Value: "1 ft"}, {Path: "notes", Value: "one\n\n- two: 2"}, {Path: "site.banks[0]", Value: "{name: berm, distance: 1 m, height: 1 m}"},
	{Path: "tubes[0].fan", Value: "{flow: 100 cfm, power: 9 W}"}, {Path: "builds", Value: "{wall: {r_value: R-3}}"},
}

// drawChange makes a change of a plan: a value that is there or assumed, a part, an item more, or something out.
func drawChange(t *rapid.T, p *Plan) Change {
	values := slices.Collect(p.Origins.All())
	v := rapid.SampledFrom(values).Draw(t, "value")
	switch rapid.IntRange(0, 7).Draw(t, "kind") {
	case 0:
		return Change{Path: v.Path, Value: rapid.SampledFrom(hostile).Draw(t, "hostile")}
	case 1:
		return rapid.SampledFrom(whole).Draw(t, "whole")
	case 2: // out, or a part above it out
		path := v.Path
		for range rapid.IntRange(0, 2).Draw(t, "up") {
			if up := above(path); up != "" {
				path = up
			}
		}
		return Change{Path: path, Value: removal}
	case 3: // one item more, or too far behind
		lists := map[string]int{"store.rows": 0, "beds": len(p.Beds), "vents": len(p.Vents), "windows": len(p.Windows)}
		if p.Store != nil {
			lists["store.rows"] = len(p.Store.Rows)
		}
		path := rapid.SampledFrom(sortedKeys(lists)).Draw(t, "list")
		return Change{Path: item(path, lists[path]+rapid.IntRange(0, 5).Draw(t, "behind")/5), Value: "{name: one more, at: 1 m, drums: 3}"}
	case 7: // a new named part, with any name
		of := rapid.SampledFrom([]Change{{Path: "builds", Value: "{layers: [{material: xps, thickness: 5 cm}, {r_value: R-2}]}"}, {Path: "builds", Value: "{r_value: R-9, inside: {absorptance: 40 %}}"}, {Path: "builds", Value: "{}"},
			{Path: "glazings", Value: "{transmittance: 80 %, u_value: 3 W/m2K}"}, {Path: "materials", Value: "{conductivity: 0.1 W/mK}"}}).Draw(t, "of")
		name := rapid.OneOf(rapid.SampledFrom(hostile), rapid.StringMatching(`[a-z]{1,6}( [a-z]{1,6})?`), rapid.StringN(1, 12, -1)).Draw(t, "called")
		return Change{Path: join(of.Path, name), Value: of.Value}
	case 4: // any text
		return Change{Path: v.Path, Value: rapid.String().Draw(t, "text")}
	default:
		other := rapid.SampledFrom(values).Draw(t, "other")
		for range 30 {
			if other.Quantity.Kind == v.Quantity.Kind {
				break
			}
			other = rapid.SampledFrom(values).Draw(t, "another")
		}
		return Change{Path: v.Path, Value: other.Text}
	}
}

// bare is a plan without what says where its values stand.
func bare(p *Plan) Plan {
	b := *p
	b.Origins, b.file, b.root = Origins{}, "", nil
	return b
}

// told are findings without their places. All values of a change have one place, so that what is said of two of them is one finding.
func told(findings []Finding) []string {
	list := make([]string, len(findings))
	for i, f := range findings {
		message, _, _ := strings.Cut(f.Message, ", first at")
		list[i] = f.Path + ": " + message
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// sameAsApplied holds that an edited text reads as what Apply makes of the old one.
func sameAsApplied(t interface{ Fatalf(string, ...any) }, text, edited string, c Change) {
	want, wanted := Apply("p", []byte(text), c)
	have, found := Read("p", []byte(edited))
	if have == nil {
		t.Fatalf("%s: %v in\n%s", c, found, edited)
	}
	if !reflect.DeepEqual(bare(want), bare(have)) || !slices.Equal(told(wanted), told(found)) {
		t.Fatalf("%s: the edited text reads otherwise: %v, want %v, in\n%s", c, told(found), told(wanted), edited)
	}
	for v := range want.Origins.All() {
		w, ok := have.Origins.At(v.Path)
		if !ok || w.Text != v.Text || w.Quantity != v.Quantity || (w.Origin == Assumed) != (v.Origin == Assumed) {
			t.Fatalf("%s: %s is %+v, want %+v, in\n%s", c, v.Path, w, v, edited)
		}
	}
}

// touched is the stretch of a text that a change may touch: the value, or what is taken out with its line, or nothing.
func touched(s *sheet, c Change) extent {
	path, _ := steps(c.Path)
	at := s.resolve(path)
	if len(at.holders) == 0 || len(at.rest) > 0 && at.end.size() > 0 {
		return extent{-1, -1}
	}
	h := at.last()
	v, ok := s.value(h.node, h.index)
	if !ok || at.end.shape != scalar && at.end.shape != empty && s.inBrackets(at.end) && len(at.rest) > 0 {
		return extent{-1, -1}
	}
	if c.Value == removal && (len(at.rest) == 0 || at.end.shape == empty) {
		if e, ok := s.element(h.node, h.index); ok {
			v = extent{s.lineStart(e.from), s.nextLine(e.to)}
		}
		if len(at.holders) > 1 && h.node.size() == 1 {
			up := at.holders[len(at.holders)-2]
			if behind, ok := s.behind(up.node, up.index); ok {
				v.from = min(v.from, behind)
			}
		}
		if h.index+1 < h.node.size() && c.Value == removal { // what follows a dash moves up to it
			if f, ok := s.element(h.node, h.index+1); ok {
				v.to = max(v.to, f.from)
			}
		}
		return v
	}
	if behind, ok := s.behind(h.node, h.index); ok && at.end.size() > 0 && !s.inBrackets(at.end) {
		v.from = min(v.from, behind)
	}
	return v
}

// onlyTouched holds that all bytes outside are the same. Where nothing may be touched, something may still come in between.
func onlyTouched(t interface{ Fatalf(string, ...any) }, s *sheet, edited string, c Change) {
	may := touched(s, c)
	if may.from >= 0 {
		if before, after := s.text[:may.from], s.text[may.to:]; len(edited) >= len(before)+len(after) && strings.HasPrefix(edited, before) && strings.HasSuffix(edited, after) {
			return
		}
		t.Fatalf("%s: other bytes than %q are changed: %q to %q", c, s.text[may.from:may.to], s.text, edited)
	}
	same := 0
	for same < min(len(edited), len(s.text)) && edited[same] == s.text[same] {
		same++
	}
	if !strings.HasSuffix(edited, s.text[same:]) {
		t.Fatalf("%s: bytes of the old text are lost: %q to %q", c, s.text, edited)
	}
}

// The law of edits, on all plans as they are written and written otherwise, with line ends and a mark of Windows, change after change.
func TestEditsKeepTheLaw(t *testing.T) {
	texts := planTexts(t)
	names := sortedKeys(texts)
	written := 0
	rapid.Check(t, func(t *rapid.T) {
		text := texts[rapid.SampledFrom(names).Draw(t, "plan")]
		switch rapid.IntRange(0, 3).Draw(t, "style") {
		case 0:
			text = restyled(text, rapid.Uint64().Draw(t, "seed"))
		case 1:
			text = byteOrderMark + strings.ReplaceAll(text, "\n", "\r\n")
		case 2:
			text = strings.TrimRight(text, "\n")
		}
		for range 4 {
			s, _ := newSheet("p", text)
			p, _ := Read("p", []byte(text))
			c := drawChange(t, p)
			edited, err := Edit("p", []byte(text), c)
			if err != nil {
				if string(edited) != text {
					t.Fatalf("%s: refused and changed", c)
				}
				if strings.Contains(err.Error(), "cannot be written") {
					t.Fatalf("%s: %v in\n%s", c, err, text)
				}
				continue
			}
			written++
			sameAsApplied(t, text, string(edited), c)
			onlyTouched(t, s, string(edited), c)
			setBack(t, s, p, string(edited), c)
			text = string(edited)
		}
	})
	if written < 50 {
		t.Errorf("only %d changes were written", written)
	}
}

// setBack holds that setting twice changes nothing more, and that setting back a value restores every byte. Quotes that nobody needed
// and that a value needed meanwhile, several lines in quotes, and single values that only this reader takes without quotes, are not known any more.
func setBack(t *rapid.T, s *sheet, p *Plan, edited string, c Change) {
	path, _ := steps(c.Path)
	at := s.resolve(path)
	if c.Value == removal || len(at.rest) > 0 {
		return
	}
	if again, err := Edit("p", []byte(edited), c); err != nil || string(again) != edited {
		t.Fatalf("%s: made twice it gives %v\n%s", c, err, again)
	}
	v, ok := p.Origins.At(c.Path)
	if !ok || v.Origin != Given || strings.HasPrefix(c.Value, "{") || strings.HasPrefix(c.Value, "[") {
		return
	}
	h := at.last()
	e, _ := s.value(h.node, h.index)
	old := s.text[e.from:e.to]
	needless := plainSafe(v.Text, at.inline) && !(free(path) && misread(v.Text))
	needed := !plainSafe(c.Value, at.inline) || free(path) && misread(c.Value)
	if strings.Contains(old+v.Text, "\n") || strings.HasPrefix(old, `"`) && (needless && needed || doubleQuoted(v.Text) != old) || !strings.HasPrefix(old, `"`) && !strings.HasPrefix(old, "'") && !needless {
		return
	}
	lines, now := strings.Split(s.text, "\n"), strings.Split(edited, "\n")
	if len(lines) == len(now) {
		lines[v.Line-1], now[v.Line-1] = "", ""
	}
	if !strings.Contains(c.Value, "\n") && !slices.Equal(lines, now) {
		t.Fatalf("%s: other lines than %d are changed: %q to %q", c, v.Line, s.text, edited)
	}
	if strings.HasPrefix(old, "'") && strings.ContainsFunc(c.Value, hidden) || strings.Contains(c.Value, "\n") {
		return
	}
	if back, err := Edit("p", []byte(edited), Change{Path: c.Path, Value: v.Text}); err != nil || string(back) != s.text {
		t.Fatalf("%s, and back to %s: %v\n%s", c, v.Text, err, back)
	}
}

// FuzzEdit holds the law on any text and any change: no panic, nothing lost when refused, and no other byte when written.
func FuzzEdit(f *testing.F) {
	for _, row := range edits {
		f.Add(row.before, row.change)
	}
	for _, c := range []string{"shape.depth=1 m", "beds[2]={name: c, from: 0 m, to: 1 ft}", "builds.new={layers: [{material: xps, thickness: 5 cm}]}", "cover=none", "climate.sun[3]=4 kWh/m2", "notes=x", "run.seed=4"} {
		f.Add(pit, c)
		f.Add(box, c)
	}
	f.Fuzz(func(t *testing.T, text, change string) {
		c, err := ParseChange(change)
		if err != nil || len(text) > 20_000 {
			return
		}
		edited, err := Edit("p", []byte(text), c)
		if err != nil {
			if string(edited) != text {
				t.Fatalf("refused and changed: %q", edited)
			}
			return
		}
		from, to, ok := Range([]byte(text), c.Path)
		if ok && (from < 0 || to < from || to > len(text)) {
			t.Fatalf("%s stands at %d to %d of %d bytes", c.Path, from, to, len(text))
		}
		s, _ := newSheet("p", text)
		sameAsApplied(t, text, string(edited), c)
		if string(edited) != text {
			onlyTouched(t, s, string(edited), c)
		}
	})
}
