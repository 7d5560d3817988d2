package plan

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What differs is told by as few changes as a person would write.
func TestDifferencesAreSmall(t *testing.T) {
	t.Parallel()
	for _, c := range []string{
		"", "shape.depth=1.5 m", "cover.r_value=R-9", "cover=none", "store.rows[0].drums=7", "beds=none", "climate.mean_low[2]=-7 degC", "store=none",
		`beds[2]={name: third bed, from: 2.0 m, to: 2.5 m}`, "vents[0]=none", "builds.earth wall.layers[1].thickness=120 mm; shape.length=8 m", "name=\"a: b\"",
	} {
		var changes []Change
		for part := range strings.SplitSeq(c, "; ") {
			if part != "" {
				changes = append(changes, change(t, part))
			}
		}
		other, err := Edit("p", []byte(pit), changes...)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Differences("p", []byte(pit), other)
		if err != nil || len(got) != len(changes) {
			t.Errorf("%s: told as %v, %v", c, got, err)
			continue
		}
		for i := range got {
			if got[i].Path != changes[i].Path {
				t.Errorf("%s: told as %v", c, got)
			}
		}
	}
	if _, err := Differences("p", []byte(pit), []byte("a: [")); err == nil {
		t.Error("a text that is no YAML has differences")
	}
}

// Whatever was changed and restyled: the differences made in the first text say what the second says.
func TestDifferencesMakeTheSecond(t *testing.T) {
	texts := planTexts(t)
	var names []string
	for name := range texts {
		names = append(names, name)
	}
	rapid.Check(t, func(t *rapid.T) {
		first, second := texts[rapid.SampledFrom(names).Draw(t, "first")], texts[rapid.SampledFrom(names).Draw(t, "second")]
		second = restyled(second, rapid.Uint64().Draw(t, "seed"))
		changes, err := Differences("p", []byte(first), []byte(second))
		if err != nil {
			t.Fatal(err)
		}
		got, _ := Apply("p", []byte(first), changes...)
		want, _ := Apply("p", []byte(second))
		if !same(got.root, want.root) {
			t.Fatalf("%v do not make the second", changes)
		}
	})
}
