package plan

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"suncellar/internal/unit"
)

// compiled is the schema as a library reads it, held against the schema of schemas on the way.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("plan.json", document); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("plan.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// validate holds a plan against the schema, after the YAML library has read it its own way.
func validate(s *jsonschema.Schema, text string) error {
	var read any
	if err := yaml.Unmarshal([]byte(strings.TrimPrefix(text, byteOrderMark)), &read); err != nil {
		return err
	}
	asJSON, err := json.Marshal(read)
	if err != nil {
		return err
	}
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(asJSON))
	if err != nil {
		return err
	}
	return s.Validate(document)
}

func TestPlansPassTheSchema(t *testing.T) {
	s := compiled(t)
	for name, text := range planTexts(t) {
		if err := validate(s, text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestTheSchemaRefuses(t *testing.T) {
	s := compiled(t)
	for _, row := range []struct{ plan, from, to, wants string }{
		{pit, "depth: 4 ft", "dept: 4 ft", "dept"},
		{pit, "run: whole year", "rum: whole year", "rum"},
		{pit, "kind: pit", "kind: tent", "pit"},
		{pit, "  latitude: 44.2 deg\n", "", "latitude"},
		{pit, "  longitude: -105.5 deg\n", "", "longitude"},
		{pit, "depth: 4 ft", "depth: 4", "string"},
		{pit, "depth: 4 ft", "depth: '4'", "pattern"},
		{pit, "depth: 4 ft", "depth: 1,2 m", "pattern"},
		{pit, "depth: 4 ft", "depth: deep", "pattern"},
		{pit, "depth: 4 ft", "depth:", "string"},
		{pit, "drums: 12", "drums: 12.5", "integer"},
		{pit, "drums: 12", "drums: 501", "maximum"},
		{pit, "suncellar: 1", "suncellar: 2", "maximum"},
		{pit, "moisture: 40 %", "moisture: 40", "maximum"},
		{pit, "wet_days: [6, ", "wet_days: [", "minItems"},
		{pit, "wet_days: [6, ", "wet_days: [6, 6, ", "maxItems"},
		{pit, "date: 12-24", "date: Christmas", "pattern"},
		{pit, "hours: 17:00-08:00", "hours: 17-8", "pattern"},
		{pit, "r_value: R-4", "r_value: 4", "string"},
		{pit, "run: whole year", "run: summer", "run"},
		{pit, "run: whole year", "run: {spam: winter}", "run"},
		{box, "behind: adiabatic}\nw", "behind: nothing}\nw", "pattern"},
		{box, "to: [6 m, 3.2 m]", "to: [6 m]", "minItems"},
		{box, "to: [6 m, 3.2 m]", "to: 6 m", "array"},
		{box, "sun_shares: {boards: 64 %", "sun_shares: {boards: 64", "maximum"},
		{box, "windows:\n", "windows: none\nvents:\n", "array"},
		{box, "run: {span", "unknown: {dirt: 2}\nrun: {span", "string"},
	} {
		text := strings.Replace(row.plan, row.from, row.to, 1)
		if text == row.plan {
			t.Fatalf("%q does not stand in the plan", row.from)
		}
		if err := validate(s, text); err == nil || !strings.Contains(err.Error(), row.wants) {
			t.Errorf("%q for %q: %v, want %q", row.to, row.from, err, row.wants)
		}
	}
}

// What Read takes, however it is written, passes the schema: an editor marks nothing that the program would not.
func TestWhatIsReadPassesTheSchema(t *testing.T) {
	s := compiled(t)
	texts := planTexts(t)
	names := sortedKeys(texts)
	rapid.Check(t, func(t *rapid.T) {
		text := texts[rapid.SampledFrom(names).Draw(t, "plan")]
		if rapid.Bool().Draw(t, "otherwise") {
			text = restyled(text, rapid.Uint64().Draw(t, "seed"))
		}
		for range 3 {
			p, _ := Read("p", []byte(text))
			c := drawChange(t, p)
			edited, err := Edit("p", []byte(text), c)
			if err != nil {
				continue
			}
			if _, findings := Read("p", edited); Failed(findings) {
				continue
			}
			text = string(edited)
		}
		if err := validate(s, text); err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
	})
}

// Quantities in every unit, as they are written by people and by unit.Like, pass the patterns of their kind.
func TestQuantitiesPassTheSchema(t *testing.T) {
	byKind := map[unit.Kind]*field{}
	for _, fields := range theTable() {
		for i := range fields {
			if f := &fields[i]; f.measure != nil {
				byKind[f.measure.kind] = &field{measure: f.measure, limits: limits{math.Inf(-1), math.Inf(1)}}
			}
		}
	}
	pass := func(kind unit.Kind, text string) bool {
		f, ok := byKind[kind]
		if !ok {
			return true
		}
		c := jsonschema.NewCompiler()
		if err := c.AddResource("one.json", map[string]any{"type": "string", "pattern": f.single().Pattern}); err != nil {
			t.Fatal(err)
		}
		return c.MustCompile("one.json").Validate(text) == nil
	}
	for kind := range byKind {
		texts := examples(kind.Example())
		for _, name := range kind.Units() {
			for _, v := range []float64{0.5, 1e-9, 3e17, -0.25} {
				if text := unit.Like(unit.Quantity{Kind: kind, Unit: name}, v); kind != unit.Share && kind != unit.Count || v == 0.5 {
					texts = append(texts, text)
				}
			}
		}
		for _, text := range texts {
			if !pass(kind, text) {
				t.Errorf("%s %q does not pass", kind, text)
			}
		}
	}
	for _, row := range []struct {
		kind unit.Kind
		text string
	}{
		{unit.Length, `12'-6"`}, {unit.Length, "5 1/2 in"}, {unit.Length, ".5 m"}, {unit.Length, "−2 ft 3 in"}, {unit.Length, "1e3 mm"}, {unit.Resistance, "r 19"}, {unit.Resistance, "RSI-3.3"}, {unit.Resistance, "RSI 3.3"},
		{unit.Resistance, "19 h·ft²·°F/Btu"}, {unit.Temperature, "-9°F"}, {unit.Angle, `39° 44' 30"`}, {unit.Ratio, "3/4"}, {unit.Share, "12.5%"}, {unit.Extinction, "19.6 1/m"},
	} {
		if _, err := unit.Parse(row.kind, row.text); err != nil || !pass(row.kind, row.text) {
			t.Errorf("%s %q does not pass: %v", row.kind, row.text, err)
		}
	}
}
