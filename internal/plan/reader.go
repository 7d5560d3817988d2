package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// The limits of a plan file. A plan has some hundred lines; what is far beyond that is not a plan, and would
// keep the reader busy for minutes.
const (
	maxBytes  = 1 << 20 // [B]
	maxKeys   = 20_000  // colons and dashes that may start a value
	maxColumn = 4_000   // characters in a line
	maxOpen   = 60      // brackets open at once
	maxDepth  = 20      // levels of keys and lists
)

// ReadFile reads the plan in a file, see Read.
func ReadFile(name string) (*Plan, []Finding) {
	f, err := os.Open(name)
	if err != nil {
		return nil, []Finding{{File: name, Message: "cannot be read: " + reason(err)}}
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, maxBytes+1))
	if err != nil {
		return nil, []Finding{{File: name, Message: "cannot be read: " + reason(err)}}
	}
	return Read(name, text)
}

// reason is an error of the file system without the name, which the finding gives.
func reason(err error) string {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	return err.Error()
}

// Read turns the text of a plan into a Plan and reports all that is wrong with single values, in the order of the file.
// Where the text is no YAML document the plan is nil. Where there are other errors (see Failed) the plan is not whole
// and serves only Check, which then finds the rest.
func Read(name string, text []byte) (*Plan, []Finding) {
	root, findings := document(name, text)
	if root == nil {
		return nil, sorted(findings)
	}
	p, more := walk(name, root)
	return p, sorted(append(findings, more...))
}

// document parses YAML to nodes. root is nil where that fails.
func document(name string, text []byte) (root *node, findings []Finding) {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	if bad := outside(text); bad != nil {
		bad.File = name
		return nil, []Finding{*bad}
	}
	// The YAML library miscounts lines that end in CR LF after a block of text.
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	lines := strings.Split(string(text), "\n")
	file, err := parse(text)
	if err != nil {
		return nil, []Finding{syntax(name, lines, err)}
	}
	c := converter{file: name, lines: lines}
	var body ast.Node
	for _, d := range file.Docs {
		switch {
		case d.Body == nil:
		case d.Body.Type() == ast.DirectiveType:
			c.refuse(d.Body.GetToken(), "a plan has no directives", "leave the line out")
		case body != nil:
			c.refuse(first(d.Body), "a second document begins here, a plan is one", "put the houses into files of their own")
		default:
			body = d.Body
		}
	}
	if body == nil {
		return nil, append(c.findings, Finding{File: name, Line: 1, Column: 1, Message: "the plan is empty", Hint: "begin with 'suncellar: 1'"})
	}
	return c.node(body, 1), c.findings
}

// parse guards against a panic of the YAML library: whatever it is fed, the answer is an error.
func parse(text []byte) (file *ast.File, err error) {
	defer func() {
		if r := recover(); r != nil {
			file, err = nil, errors.New("the text is not YAML")
		}
	}()
	return parser.ParseBytes(text, 0, parser.AllowDuplicateMapKey())
}

func syntax(name string, lines []string, err error) Finding {
	f := Finding{File: name, Line: 1, Column: 1, Message: "not YAML: " + err.Error(), Hint: "keys of one level start in one column, and 'key: value' has a blank after the colon"}
	var at yaml.Error
	if errors.As(err, &at) && at.GetToken() != nil {
		f.Message = "not YAML: " + at.GetMessage()
		f.Line, f.Column = within(lines, at.GetToken().Position)
	}
	return f
}

// outside looks for what keeps a text from being a plan at all, before it is parsed.
func outside(text []byte) *Finding {
	if len(text) > maxBytes {
		return &Finding{Message: "the file is larger than 1 MB, which no plan is", Hint: "weather and readings are files of their own"}
	}
	open, keys := 0, 0
	for i, line := range strings.Split(string(text), "\n") {
		line = strings.TrimSuffix(line, "\r")
		bad := func(column int, message, hint string) *Finding {
			return &Finding{Line: i + 1, Column: column, Message: message, Hint: hint}
		}
		if !utf8.ValidString(line) {
			return bad(invalidColumn(line), "the text is not UTF-8 here", "save the file as UTF-8")
		}
		if utf8.RuneCountInString(line) > maxColumn {
			return bad(maxColumn+1, fmt.Sprintf("the line is longer than %d characters", maxColumn), "break it")
		}
		indent := line[:len(line)-len(strings.TrimLeft(line, " \t"))]
		if at := strings.IndexByte(indent, '\t'); at >= 0 && len(indent) < len(line) {
			return bad(at+1, "a tab in the indentation", "indent with blanks")
		}
		column := 0
		for _, r := range line {
			column++
			switch {
			case r < ' ' && r != '\t' || r == 0x7f || r == '\ufeff' || r == '\u0085' || r == '\u2028' || r == '\u2029':
				return bad(column, fmt.Sprintf("a control character (U+%04X)", r), "remove it")
			case r == '[' || r == '{':
				open++
			case (r == ']' || r == '}') && open > 0:
				open--
			case r == ':' || r == '-' || r == '?' || r == ',':
				keys++
			}
			if open > maxOpen {
				return bad(column, fmt.Sprintf("more than %d brackets are open", maxOpen), "close them")
			}
		}
		if keys+i > maxKeys {
			return bad(1, fmt.Sprintf("more than %d keys and lines, which no plan has", maxKeys), "weather and readings are files of their own")
		}
	}
	return nil
}

func invalidColumn(line string) int {
	column := 1
	for len(line) > 0 {
		r, size := utf8.DecodeRuneInString(line)
		if r == utf8.RuneError && size == 1 {
			break
		}
		line, column = line[size:], column+1
	}
	return column
}

// within holds a position to the text: the library's may lie behind its end.
func within(lines []string, p *token.Position) (line, column int) {
	line = min(max(1, p.Line), len(lines))
	return line, min(max(1, p.Column), utf8.RuneCountInString(lines[line-1])+1)
}

// first is the token a node begins with: the library gives the colon for a mapping.
func first(n ast.Node) *token.Token {
	switch n := n.(type) {
	case *ast.MappingNode:
		if !n.IsFlowStyle && len(n.Values) > 0 {
			return n.Values[0].Key.GetToken()
		}
	case *ast.MappingValueNode:
		return n.Key.GetToken()
	}
	return n.GetToken()
}
