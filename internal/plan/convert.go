package plan

import (
	"fmt"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// converter turns the YAML library's tree into nodes and refuses what a plan does not use: anchors, aliases,
// merge keys, tags and keys that are not plain words.
type converter struct {
	file     string
	lines    []string
	findings []Finding
}

func (c *converter) place(t *token.Token) place {
	line, column := within(c.lines, t.Position)
	return place{c.file, line, column}
}

func (c *converter) refuse(t *token.Token, message, hint string) *node {
	at := c.place(t)
	c.findings = append(c.findings, Finding{File: c.file, Line: at.line, Column: at.column, Message: message, Hint: hint})
	return &node{shape: broken, at: at}
}

func (c *converter) node(n ast.Node, depth int) *node {
	if depth > maxDepth {
		return c.refuse(first(n), fmt.Sprintf("more than %d levels of keys and lists", maxDepth), "a plan has fewer levels")
	}
	switch n := n.(type) {
	case *ast.MappingNode:
		return c.mapping(n.Values, first(n), depth)
	case *ast.MappingValueNode:
		return c.mapping([]*ast.MappingValueNode{n}, first(n), depth)
	case *ast.SequenceNode:
		result := &node{shape: list, at: c.place(n.GetToken())}
		for _, v := range n.Values {
			it := c.node(v, depth+1)
			it.glued = n.IsFlowStyle && c.glued(it.at)
			result.items = append(result.items, it)
		}
		return result
	case *ast.NullNode:
		return &node{shape: empty, at: c.place(n.GetToken())}
	case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.NanNode, *ast.InfinityNode:
		return c.scalar(n.GetToken())
	case *ast.LiteralNode:
		return &node{shape: scalar, text: strings.TrimRight(n.Value.Value, "\n"), at: c.place(n.GetToken())}
	case *ast.AnchorNode, *ast.AliasNode:
		return c.refuse(n.GetToken(), "anchors and aliases (& and *) are not read in a plan", "write the value out, or put a name that begins with such a sign in quotes")
	case *ast.TagNode:
		return c.refuse(n.GetToken(), "tags (!) are not read in a plan", "write the value alone, or put a text that begins with ! in quotes")
	default:
		return c.refuse(n.GetToken(), "this is not read in a plan", "write a value, keys with values or a list")
	}
}

func (c *converter) scalar(t *token.Token) *node {
	n := &node{shape: scalar, text: t.Value, at: c.place(t)}
	n.plain = t.Type != token.SingleQuoteType && t.Type != token.DoubleQuoteType && !strings.Contains(strings.TrimSpace(t.Origin), "\n")
	return n
}

func (c *converter) mapping(values []*ast.MappingValueNode, begin *token.Token, depth int) *node {
	result := &node{shape: mapping, at: c.place(begin)}
	for _, v := range values {
		at := v.Key.GetToken()
		switch v.Key.(type) {
		case *ast.MergeKeyNode:
			c.refuse(at, "merge keys (<<) are not read in a plan", "write the keys out")
			continue
		case *ast.StringNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.NullNode, *ast.NanNode, *ast.InfinityNode:
		default:
			c.refuse(at, "a key has to be a plain word", "write 'key: value'")
			continue
		}
		if _, none := v.Value.(*ast.NullNode); none && len(result.entries) > 0 && c.glued(c.place(at)) {
			comma := c.place(at)
			comma.column--
			c.findings = append(c.findings, Finding{File: c.file, Line: comma.line, Column: comma.column, Message: commaMessage, Hint: commaHint})
			result.entries[len(result.entries)-1].value.shape = broken
			continue
		}
		value := c.node(v.Value, depth+1)
		if value.shape == empty {
			value.at = c.place(at)
		}
		result.entries = append(result.entries, entry{at.Value, c.place(at), value})
	}
	return result
}

// Within brackets YAML ends a value at a comma, so that {depth: 1,2 m} falls apart before it is read as a number.
const (
	commaMessage = "a decimal comma: within brackets a comma ends the value"
	commaHint    = "write a point, as 1.2, or a blank after the comma"
)

// glued tells whether a digit stands at a place and "digit," right before it.
func (c *converter) glued(at place) bool {
	line := []rune(c.lines[at.line-1])
	i := at.column - 1
	digit := func(i int) bool { return i >= 0 && i < len(line) && line[i] >= '0' && line[i] <= '9' }
	return digit(i) && i > 0 && line[i-1] == ',' && digit(i-2)
}
