package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"suncellar/internal/unit"
)

// The tests in this file change good plans in ways whose verdict is known by construction. The seed makes a run the same
// each time; a failure prints the round.
const mutationSeed = 20250117

func dice(stream uint64) *rand.Rand { return rand.New(rand.NewPCG(mutationSeed, stream)) }

func pick[T any](r *rand.Rand, list []T) T { return list[r.IntN(len(list))] }

// offset is the byte at which a line and column stand.
func offset(text string, line, column int) int {
	at := 0
	for range line - 1 {
		at += strings.IndexByte(text[at:], '\n') + 1
	}
	for range column - 1 {
		_, size := firstRune(text[at:])
		at += size
	}
	return at
}

func firstRune(s string) (rune, int) {
	for _, r := range s {
		return r, len(string(r))
	}
	return 0, 0
}

// rowOf finds the table's row of a path.
func rowOf(t *testing.T, path string) *field {
	t.Helper()
	row := fieldAt(path)
	if row == nil {
		t.Fatalf("the table has no row for %s", path)
	}
	return row
}

// numbersOf are the numbers written in a plan.
func numbersOf(p *Plan) []Value {
	var list []Value
	for v := range p.Origins.All() {
		if v.Origin == Given && v.Quantity.Kind != 0 {
			list = append(list, v)
		}
	}
	return list
}

// number splits a text into what stands before its first number, the number, and the rest.
func number(text string) (before, digits, rest string) {
	from := strings.IndexAny(text, "0123456789")
	if strings.HasPrefix(text, "-") {
		from = 0
	}
	to := from + 1
	for to < len(text) && strings.IndexByte("0123456789.", text[to]) >= 0 {
		to++
	}
	return text[:from], text[from:to], text[to:]
}

// spoil writes a number so that it has to be refused. at is the character of the text where that has to be found.
func spoil(t *testing.T, r *rand.Rand, v Value) (text string, at int, wants string, ok bool) {
	before, digits, rest := number(v.Text)
	kind := v.Quantity.Kind
	switch r.IntN(5) {
	case 0: // the unit is left out
		if strings.TrimSpace(rest) == "" && before == "" || kind == unit.Share {
			return "", 0, "", false
		}
		return digits, 0, "has no unit", true
	case 1: // another kind: masses stand in no plan, and the rest is no kind of its own here
		other := pick(r, []struct {
			kind unit.Kind
			name string
		}{{unit.Mass, "kg"}, {unit.Power, "W"}, {unit.Area, "m2"}, {unit.Temperature, "degC"}, {unit.Length, "ft"}, {unit.Speed, "mph"}})
		if other.kind == kind {
			return "", 0, "", false
		}
		return digits + " " + other.name, len(digits) + 1, other.name + " is a", true
	case 2: // a thousand times as much
		l := rowOf(t, v.Path).limits
		if l.hold(v.Quantity.SI * 1000) {
			return "", 0, "", false
		}
		text := unit.Like(v.Quantity, v.Quantity.SI*1000)
		if kind == unit.Temperature && v.Quantity.SI*1000 < -273.15 {
			return text, 0, "is below absolute zero", true
		}
		if kind == unit.Share && v.Quantity.Unit == "" {
			return text, 0, "is not a share", true
		}
		return text, 0, "is out of range, allowed", true
	case 3: // a decimal comma
		whole, part, point := strings.Cut(digits, ".")
		if !point {
			part = "5"
		}
		return before + whole + "," + part + rest, len(before + whole), "has a decimal comma", true
	default: // not a number
		word := pick(r, []string{"NaN", ".nan", "inf", "-.inf", "+Inf"})
		return word + rest, 0, "is not a finite number", true
	}
}

func TestSpoiltNumbersAreRefused(t *testing.T) {
	r := dice(1)
	rounds, kinds := 0, map[string]int{}
	numbers := map[string][]Value{pit: numbersOf(mustRead(t, pit)), box: numbersOf(mustRead(t, box))}
	for rounds < 1000 {
		plan := pick(r, []string{pit, box})
		v := pick(r, numbers[plan])
		text, at, wants, ok := spoil(t, r, v)
		if !ok {
			continue
		}
		rounds++
		kinds[wants]++
		start := offset(plan, v.Line, v.Column)
		if !strings.HasPrefix(plan[start:], v.Text) {
			t.Fatalf("%s: %q does not stand at %d:%d", v.Path, v.Text, v.Line, v.Column)
		}
		changed := plan[:start] + text + plan[start+len(v.Text):]
		_, findings := Read("p", []byte(changed))
		if len(findings) != 1 {
			t.Fatalf("round %d: %s = %q: want one finding, have %v", rounds, v.Path, text, AsError(findings))
		}
		if f := findings[0]; f.Message == commaMessage && f.Line == v.Line && f.Column == v.Column+at {
			continue
		}
		if f := findings[0]; f.Path != v.Path || f.Line != v.Line || f.Column != v.Column+at || !strings.Contains(f.Message, wants) {
			t.Fatalf("round %d: %s = %q at %d:%d: want %q at column %d, have %v", rounds, v.Path, text, v.Line, v.Column, wants, v.Column+at, f)
		}
	}
	if len(kinds) < 8 {
		t.Errorf("only these were tried: %v", kinds)
	}
}

func mustRead(t *testing.T, text string) *Plan {
	t.Helper()
	p, findings := Read("p", []byte(text))
	if Failed(findings) {
		t.Fatal(AsError(findings))
	}
	return p
}

// writtenKey is a key of a struct in a plan, with the node of its value.
type writtenKey struct {
	entry
	allowed []string
}

// keysIn lists the keys of structs below a node.
func keysIn(n *node, t reflect.Type) []writtenKey {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	var found []writtenKey
	switch {
	case n.shape == mapping && t.Kind() == reflect.Struct:
		for _, e := range n.entries {
			for _, f := range theTable()[t] {
				if f.key == e.key {
					found = append(append(found, writtenKey{e, keys(theTable()[t])}), keysIn(e.value, t.Field(f.at).Type)...)
				}
			}
		}
	case n.shape == mapping && t.Kind() == reflect.Map:
		for _, e := range n.entries {
			found = append(found, keysIn(e.value, t.Elem())...)
		}
	case n.shape == list && t.Kind() == reflect.Slice:
		for _, it := range n.items {
			found = append(found, keysIn(it, t.Elem())...)
		}
	}
	return found
}

func allKeys() map[string][]writtenKey {
	all := map[string][]writtenKey{}
	for _, plan := range []string{pit, box} {
		root, _ := document("p", []byte(plan))
		all[plan] = keysIn(root, reflect.TypeFor[Plan]())
	}
	return all
}

// misspell drops, doubles, exchanges or replaces a letter.
func misspell(r *rand.Rand, word string) string {
	i := r.IntN(len(word))
	switch r.IntN(4) {
	case 0:
		return word[:i] + word[i+1:]
	case 1:
		return word[:i+1] + word[i:]
	case 2:
		j := (i + 1) % len(word)
		b := []byte(word)
		b[i], b[j] = b[j], b[i]
		return string(b)
	}
	return word[:i] + string(rune('a'+r.IntN(26))) + word[i+1:]
}

func TestMisspeltKeysAreRefused(t *testing.T) {
	r, all := dice(2), allKeys()
	for round := 0; round < 500; {
		plan := pick(r, []string{pit, box})
		k := pick(r, all[plan])
		wrong := misspell(r, k.key)
		if wrong == "" || wrong == "y" || wrong == "n" || known(wrong, k.allowed) {
			continue
		}
		round++
		start := offset(plan, k.at.line, k.at.column)
		_, findings := Read("p", []byte(plan[:start]+wrong+plan[start+len(k.key):]))
		var f Finding
		for _, g := range findings {
			if strings.Contains(g.Message, "unknown key") {
				f = g
			}
		}
		if f.Line != k.at.line || f.Column != k.at.column || f.Message != fmt.Sprintf("unknown key %q", wrong) {
			t.Fatalf("round %d: %q for %q at %d:%d: %v", round, wrong, k.key, k.at.line, k.at.column, AsError(findings))
		}
	}
}

func TestDoubledKeysAreRefused(t *testing.T) {
	r, all := dice(3), allKeys()
	for round := 0; round < 300; {
		plan := pick(r, []string{pit, box})
		k := pick(r, all[plan])
		if k.value.shape != scalar || !k.value.plain {
			continue
		}
		round++
		start := offset(plan, k.at.line, k.at.column)
		line, column := k.at.line+1, k.at.column
		insert := k.key + ": " + k.value.text + "\n" + strings.Repeat(" ", column-1)
		if open := plan[:start]; strings.Count(open, "{") > strings.Count(open, "}") {
			insert = k.key + ": " + k.value.text + ", "
			line, column = k.at.line, column+len(insert)
		}
		_, findings := Read("p", []byte(plan[:start]+insert+plan[start:]))
		want := fmt.Sprintf("the key stands twice, first at line %d, column %d", k.at.line, k.at.column)
		if len(findings) != 1 || findings[0].Line != line || findings[0].Column != column || findings[0].Message != want {
			t.Fatalf("round %d: %q at %d:%d: %v", round, k.key, line, column, AsError(findings))
		}
	}
}

// equal compares all values of two plans.
func equal(a, b *Plan) error {
	for v := range a.Origins.All() {
		if w, ok := b.Origins.At(v.Path); ok && v.Origin != w.Origin {
			return fmt.Errorf("%s is %s, want %s", v.Path, w.Origin, v.Origin)
		}
	}
	return equalButOrigin(a, b)
}

func equalButOrigin(a, b *Plan) error {
	if len(a.Origins.values) != len(b.Origins.values) {
		return fmt.Errorf("%d values, %d wanted", len(b.Origins.values), len(a.Origins.values))
	}
	for v := range a.Origins.All() {
		w, ok := b.Origins.At(v.Path)
		x, y := v.Quantity.SI, w.Quantity.SI
		switch {
		case !ok:
			return fmt.Errorf("%s is lost", v.Path)
		case v.Quantity.Kind != w.Quantity.Kind:
			return fmt.Errorf("%s is %v, want %v", v.Path, w, v)
		case v.Quantity.Kind == 0 && v.Text != w.Text:
			return fmt.Errorf("%s is %q, want %q", v.Path, w.Text, v.Text)
		case math.Abs(x-y) > 1e-9*math.Max(math.Abs(x), math.Abs(y)) && !(v.Quantity.Kind == unit.Temperature && math.Abs(x-y) < 1e-9):
			return fmt.Errorf("%s is %v, want %v", v.Path, y, x)
		}
	}
	return nil
}

func TestOtherUnitsMeanTheSame(t *testing.T) {
	r := dice(4)
	goods := map[string]*Plan{pit: mustLoad(t, pit), box: mustLoad(t, box)}
	for round := range 1000 {
		plan := pick(r, []string{pit, box})
		good := goods[plan]
		v := pick(r, numbersOf(good))
		q := v.Quantity
		q.Unit = pick(r, q.Kind.Units())
		start := offset(plan, v.Line, v.Column)
		text := unit.Like(q, q.SI)
		changed, findings := Load("p", []byte(plan[:start]+text+plan[start+len(v.Text):]), withWeather())
		if changed == nil {
			t.Fatalf("round %d: %s = %q for %q: %v", round, v.Path, text, v.Text, AsError(findings))
		}
		if err := equal(good, changed); err != nil {
			t.Fatalf("round %d: %s = %q for %q: %v", round, v.Path, text, v.Text, err)
		}
	}
}

// A limit written in any unit of its kind is allowed and gives a value within the limits, to the 1e-9 that unit.Like
// promises; a thousandth beyond it is refused.
func TestLimitsHoldInEveryUnit(t *testing.T) {
	for s, fields := range theTable() {
		for i := range fields {
			f := &fields[i]
			if !f.ranged {
				continue
			}
			for _, limit := range []float64{f.limits.lowest, f.limits.highest} {
				if math.IsInf(limit, 0) {
					continue
				}
				for _, name := range f.measure.kind.Units() {
					like := unit.Quantity{Kind: f.measure.kind, Unit: name}
					if q, bad := f.quantity(unit.Like(like, limit)); bad != nil || q.SI < f.limits.lowest || q.SI > f.limits.highest || math.Abs(q.SI-limit) > 1e-9*math.Abs(limit) {
						t.Errorf("%s.%s: the limit %v in %q is %v, %v", s.Name(), f.key, limit, name, q.SI, bad)
					}
					beyond := limit + math.Copysign(math.Abs(limit)*1e-3+1e-6, limit-(f.limits.lowest+f.limits.highest)/2)
					if f.limits.lowest == f.limits.highest || math.IsInf(f.limits.highest, 1) || f.measure.kind == unit.Count {
						continue
					}
					if _, bad := f.quantity(unit.Like(like, beyond)); bad == nil {
						t.Errorf("%s.%s: %v in %q is beyond the limit %v and allowed", s.Name(), f.key, beyond, name, limit)
					}
				}
			}
		}
	}
}

// rewrite writes nodes anew: keys in another order, lists and keys in brackets or on lines, quotes and comments here and there.
func rewrite(r *rand.Rand, b *strings.Builder, n *node, indent int) {
	pad := strings.Repeat(" ", indent)
	switch {
	case n.shape == mapping && len(n.entries) > 0 && r.IntN(3) > 0 && indent < 30:
		for _, i := range r.Perm(len(n.entries)) {
			e := n.entries[i]
			if r.IntN(4) == 0 {
				b.WriteString("\n" + pad + "# a comment: {with, [signs")
			}
			b.WriteString("\n" + pad + quoted(r, e.key) + ":")
			rewrite(r, b, e.value, indent+2)
		}
	case n.shape == list && len(n.items) > 0 && r.IntN(2) > 0 && indent < 30:
		for _, it := range n.items {
			b.WriteString("\n" + pad + "-")
			rewrite(r, b, it, indent+2)
		}
	default:
		b.WriteString(" ")
		flow(r, b, n)
		if r.IntN(5) == 0 {
			b.WriteString("   # said: so")
		}
	}
}

func flow(r *rand.Rand, b *strings.Builder, n *node) {
	switch n.shape {
	case scalar:
		b.WriteString(quoted(r, n.text))
	case mapping:
		b.WriteString("{")
		for k, i := range r.Perm(len(n.entries)) {
			if k > 0 {
				b.WriteString(", ")
			}
			b.WriteString(quoted(r, n.entries[i].key) + ": ")
			flow(r, b, n.entries[i].value)
		}
		b.WriteString("}")
	case list:
		b.WriteString("[")
		for i, it := range n.items {
			if i > 0 {
				b.WriteString(", ")
			}
			flow(r, b, it)
		}
		b.WriteString("]")
	}
}

func quoted(r *rand.Rand, text string) string {
	switch {
	case !plainSafe(text, true) || r.IntN(6) == 0:
		return `"` + strings.NewReplacer("\n", `\n`, `"`, `\"`).Replace(text) + `"`
	case r.IntN(6) == 0:
		return "'" + strings.ReplaceAll(text, "'", "''") + "'"
	}
	return text
}

func TestOtherWritingsMeanTheSame(t *testing.T) {
	r := dice(5)
	goods := map[string]*Plan{pit: mustLoad(t, pit), box: mustLoad(t, box)}
	for round := range 300 {
		plan := pick(r, []string{pit, box})
		good := goods[plan]
		root := good.root
		var b strings.Builder
		b.WriteString("# a plan")
		for _, i := range r.Perm(len(root.entries)) {
			b.WriteString("\n" + root.entries[i].key + ":")
			rewrite(r, &b, root.entries[i].value, 2)
		}
		b.WriteString("\n")
		changed, findings := Load("p", []byte(b.String()), withWeather())
		if changed == nil {
			t.Fatalf("round %d: %v in\n%s", round, AsError(findings), b.String())
		}
		if err := equal(good, changed); err != nil {
			t.Fatalf("round %d: %v in\n%s", round, err, b.String())
		}
		for _, v := range numbersOf(changed) {
			at := strings.TrimLeft(b.String()[offset(b.String(), v.Line, v.Column):], `"'`)
			if !strings.HasPrefix(at, v.Text) {
				t.Fatalf("round %d: %s %q does not stand at %d:%d in\n%s", round, v.Path, v.Text, v.Line, v.Column, b.String())
			}
		}
	}
}
