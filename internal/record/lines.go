package record

import "strings"

// cell is one field of a line, trimmed of blanks and quotes.
type cell struct {
	text   string
	column int // 1-based byte of the line where it begins
}

// eachLine calls do for every line until it says no; numbers begin at 1.
func eachLine(content string, do func(number int, line string) bool) {
	for number := 1; content != ""; number++ {
		line, rest, _ := strings.Cut(content, "\n")
		content = rest
		if !do(number, strings.TrimRight(line, "\r")) {
			return
		}
	}
}

// commaCells cuts a line at its commas.
func commaCells(line string) []cell {
	out := make([]cell, 0, 32)
	for begin := 0; ; {
		end := strings.IndexByte(line[begin:], ',')
		text := line[begin:]
		if end >= 0 {
			text = line[begin : begin+end]
		}
		out = append(out, cell{strings.Trim(text, " \t\""), begin + 1})
		if end < 0 {
			return out
		}
		begin += end + 1
	}
}

// blankCells cuts a line at its blanks.
func blankCells(line string) []cell {
	out := make([]cell, 0, 32)
	begin := -1
	for i := 0; i <= len(line); i++ {
		blank := i == len(line) || line[i] == ' ' || line[i] == '\t'
		switch {
		case !blank && begin < 0:
			begin = i
		case blank && begin >= 0:
			out = append(out, cell{line[begin:i], begin + 1})
			begin = -1
		}
	}
	return out
}

// headings finds columns by their names.
type headings map[string]int

func headingsOf(cells []cell) headings {
	h := headings{}
	for i, c := range cells {
		if _, twice := h[c.text]; !twice {
			h[c.text] = i
		}
	}
	return h
}

// at is the cell under a heading; false where there is no such column or the row is too short.
func (h headings) at(cells []cell, name string) (cell, bool) {
	i, ok := h[name]
	if !ok || i >= len(cells) {
		return cell{}, false
	}
	return cells[i], true
}

// quote shortens a cell for an error.
func quote(s string) string {
	const most = 40
	if len(s) > most {
		s = s[:most] + "..."
	}
	return "\"" + s + "\""
}

// firstLine is the first line of a text without its end.
func firstLine(content string) string {
	line, _, _ := strings.Cut(content, "\n")
	return strings.TrimRight(line, "\r")
}
