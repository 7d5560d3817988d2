package cli

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"

	"suncellar/internal/draw"
	"suncellar/internal/report"
	"suncellar/internal/winter"
)

// The names of the files of a winter.
const (
	answerText = "answer.txt"
	answerJSON = "answer.json"
	hoursCSV   = "hours.csv"
)

// about tells what is in each file.
var about = map[string]string{
	"larch-hollow.yaml": "the plan: change what you like", weatherCSV: "the year of made weather, hour by hour",
	answerText: "this answer", answerJSON: "the same for programs, SI", hoursCSV: "every hour: places, light, snow, air, heat by name",
	"section.svg": "the section with its lowest temperatures", "worst-ten-days.svg": "the worst ten days, hour by hour",
	"winter-sheet.svg": "the whole winter of the watched place", "ledger.svg": "where the heat came from and went",
	"section-lowest.svg": "the section painted with the lowest of the winter", "floor-plan.svg": "the floor plan", "view.svg": "the house cut out of its ground", "flows.svg": "heat through the house in the worst ten days",
	"compare.svg": "what each change is worth", "worth.svg": "what one unit of each thing is worth", "there-or-not.svg": "what is there or not, and its worth",
	"unknown.svg": "how far what is not known moves the worst night", "chance.svg": "chance of frost by month and place", "one-winter-in.svg": "the lowest that comes once in so many winters", "bands.svg": "the band over winters and that of the house",
	"water-scheme.svg": "the way of the water from the side, heights to scale", "drums.svg": "reliability over the number of drums",
	"reserve.svg": "days without sun that are left, ice apart", "carry.svg": "how places cool without sun", "carry-curve.svg": "how long, over the cold outside",
}

// winterFiles are the files of a winter.
func winterFiles(a *winter.Answer, of report.OfHouse, t report.Teller) ([]file, error) {
	files := []file{
		{answerText, func(b *bytes.Buffer) error { b.WriteString(t.Winter(a, of)); return nil }},
		{answerJSON, func(b *bytes.Buffer) error { return report.WinterJSON(b, a, of) }},
		{hoursCSV, func(b *bytes.Buffer) error { return report.Hours(b, a) }},
	}
	pictures, err := t.Pictures(a)
	if err != nil {
		return nil, err
	}
	ofHouse, err := t.HousePictures(a)
	return append(files, pictureFiles(append(pictures, ofHouse...))...), err
}

// tellAnswer tells an answer that has no hours of its own, as text or as JSON,
// and writes the text and its pictures to the folder out, if one is asked for.
func (a *app) tellAnswer(out, text string, pictures []report.Picture, asJSON func(io.Writer) error) error {
	files := append([]file{{answerText, func(b *bytes.Buffer) error { b.WriteString(text); return nil }}}, pictureFiles(pictures)...)
	if out != "" {
		if err := writeFiles(out, files); err != nil {
			return err
		}
	}
	if a.json {
		return asJSON(a.Out)
	}
	if _, err := fmt.Fprint(a.Out, text); err != nil {
		return err
	}
	return a.tellFiles(out, files)
}

func pictureFiles(pictures []report.Picture) []file {
	var files []file
	for _, p := range pictures {
		files = append(files, file{p.Name, func(b *bytes.Buffer) error { return draw.SVG(b, p.List, draw.SVGOptions{}) }})
	}
	return files
}

// tellFiles lists what was written.
func (a *app) tellFiles(dir string, files []file) error {
	if dir == "" {
		return nil
	}
	fmt.Fprintf(a.Out, "\nWritten to %s:\n", dir)
	for _, f := range files {
		if _, err := fmt.Fprintf(a.Out, "  %-20s %s\n", f.name, about[f.name]); err != nil {
			return err
		}
	}
	return nil
}

// shellPath is a path as it is typed at a prompt.
func shellPath(parts ...string) string {
	return shellWord(filepath.Join(parts...))
}

// shellWord quotes what a shell would take apart.
func shellWord(s string) string {
	for _, r := range s {
		if r != '/' && r != '.' && r != '-' && r != '_' && r != '\\' && r != ':' && !(r >= '0' && r <= '9') && !(r >= 'a' && r <= 'z') && !(r >= 'A' && r <= 'Z') {
			return `"` + s + `"`
		}
	}
	return s
}
