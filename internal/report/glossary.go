package report

import (
	"slices"
	"strings"

	"suncellar/docs"
)

// Word is a word of the trade as docs/glossary.md explains it.
type Word struct {
	Word    string
	Meaning string
	Source  string // of the figures in the meaning; "" where there are none
}

// explained are the words that stand on screens and that not everybody knows, with the source of what figures their meaning has. Plainer words of the glossary
// (door, plan, place to write in) would only be noise there.
var explained = map[string]string{
	"air layer": "", "anomaly": "", "bank": "", "bay": "", "board": "", "bundle": "", "buried tube": "", "carry-through": "", "clearness": "",
	"climate": "", "cold sink": "", "cover": "", "degree-hours": "", "draught": "", "drawn house": "", "dregs": "", "edge gap": "", "footing": "", "glazing": "", "grade": "",
	"ground cover": "", "in pairs": "", "leakage": "", "ledger": "", "limit": "", "lowest": "", "made winter": "", "made year": "", "normals": "", "not known": "", "place": "",
	"profile angle": "", "record": "", "reserve": "", "section": "", "skyline": "", "snow case": "", "spell": "", "streams": "", "tier": "", "typical year": "",
	"wax opener": "", "worth": "",
	"catchment": "", "drip line": "", "emitter": "", "evenness": "", "fed": "", "first flush": "", "head": "", "manifold": "", "overflow": "", "reliability": "", "runoff": "", "settling drum": "", "spill": "",

	"band of the house":     "the spread of each thing that is not known: docs/physics/unknown.md",
	"chance of frost":       "the band of a share: E. B. Wilson, 1927",
	"dull day":              "own judgement",
	"one winter in so many": "how a winter's rank tells its rarity: L. Makkonen, 2006",
	"prior spread":          "of each thing that is not known: docs/physics/unknown.md",
	"worst spell":           "ten days: choice of the program",
}

// Words are the words that are explained on screens, by the alphabet.
func Words() []Word {
	var list []Word
	for line := range strings.Lines(docs.Glossary) {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), " | ")
		if len(cells) != 2 || strings.HasPrefix(cells[0], " ---") {
			continue
		}
		for _, w := range strings.Split(cells[0], ", ") { // a row may explain words that belong together
			w = strings.TrimSpace(w)
			if source, ok := explained[w]; ok && !slices.ContainsFunc(list, func(o Word) bool { return o.Word == w }) {
				list = append(list, Word{w, strings.TrimSpace(cells[1]), source})
			}
		}
	}
	slices.SortFunc(list, func(a, b Word) int { return strings.Compare(a.Word, b.Word) })
	return list
}
