package plan

import (
	"fmt"
	"strconv"
	"strings"
)

// join adds a key or a name to a path. A name that would be misread is put in quotes.
func join(path, name string) string {
	if name == "" || name == removal || strings.ContainsAny(name, ".[]=\"") || strings.TrimSpace(name) != name {
		name = strconv.Quote(name)
	}
	if path == "" {
		return name
	}
	return path + "." + name
}

// Join is the path of a key or a name below another path, as a Change has it.
func Join(path, name string) string { return join(path, name) }

func item(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// step is one part of a path: a name, or the number of a list item.
type step struct {
	name   string
	number int // -1 for a name
}

// steps takes a path apart.
func steps(path string) ([]step, error) {
	var list []step
	for rest := path; rest != "" || len(list) == 0; {
		name, after, err := nextStep(rest, len(list) == 0)
		if err != nil {
			return nil, fmt.Errorf("path %q: %w", path, err)
		}
		list, rest = append(list, name), after
	}
	return list, nil
}

func nextStep(rest string, start bool) (step, string, error) {
	if strings.HasPrefix(rest, "[") {
		digits, after, closed := strings.Cut(rest[1:], "]")
		n, err := strconv.Atoi(digits)
		if !closed || err != nil || n < 0 {
			return step{}, "", fmt.Errorf("%q is not the number of a list item, such as [0]", rest)
		}
		return step{number: n}, after, nil
	}
	if !start {
		if !strings.HasPrefix(rest, ".") {
			return step{}, "", fmt.Errorf("a point is missing before %q", rest)
		}
		rest = rest[1:]
	}
	if strings.HasPrefix(rest, `"`) {
		quoted, err := strconv.QuotedPrefix(rest)
		if err != nil {
			return step{}, "", fmt.Errorf("the quotes of %s are not closed", rest)
		}
		name, _ := strconv.Unquote(quoted)
		return step{name, -1}, rest[len(quoted):], nil
	}
	end := strings.IndexAny(rest, ".[")
	if end < 0 {
		end = len(rest)
	}
	if end == 0 {
		return step{}, "", fmt.Errorf("a name is missing")
	}
	return step{rest[:end], -1}, rest[end:], nil
}

// above cuts the last step off a path.
func above(path string) string {
	list, err := steps(path)
	if err != nil || len(list) < 2 {
		return ""
	}
	up := ""
	for _, s := range list[:len(list)-1] {
		if s.number >= 0 {
			up = item(up, s.number)
		} else {
			up = join(up, s.name)
		}
	}
	return up
}
