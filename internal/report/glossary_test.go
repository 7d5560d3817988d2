package report

import (
	"strings"
	"testing"
)

// Every word that screens explain is in the glossary, once, with a meaning that reads without markup; a meaning with figures says where they are from.
func TestWordsAreOfTheGlossary(t *testing.T) {
	words := Words()
	told := map[string]Word{}
	for _, w := range words {
		told[w.Word] = w
		if w.Meaning == "" || strings.ContainsAny(w.Meaning, "[]`|") {
			t.Errorf("%s: %q", w.Word, w.Meaning)
		}
	}
	for w := range explained {
		if _, ok := told[w]; !ok {
			t.Errorf("%q is explained on screens, and not in docs/glossary.md", w)
		}
	}
	if got := told["bay"].Meaning; !strings.Contains(got, "between two valves") {
		t.Errorf("bay, which shares a row with others: %q", got)
	}
	if got := told["dull day"]; got.Source == "" || !strings.Contains(got.Meaning, "0.25") {
		t.Errorf("dull day: %+v", got)
	}
	for _, w := range words {
		unquoted := ""
		for i, part := range strings.Split(w.Meaning, `"`) { // figures in names are none
			if i%2 == 0 {
				unquoted += part
			}
		}
		if strings.ContainsAny(unquoted, "0123456789") && w.Source == "" {
			t.Errorf("%s has figures and no source: %q", w.Word, w.Meaning)
		}
	}
}
