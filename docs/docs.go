// Package docs carries what the program itself tells of its documents.
package docs

import _ "embed"

// Glossary is the table of words, glossary.md: the one place where their meaning is written.
//
//go:embed glossary.md
var Glossary string
