// Package ui holds the built page. Its sources are beside it; `npm run build` writes dist, which the program then carries with it.
package ui

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

// Page is the built page, nil where the program was built without one.
func Page() fs.FS {
	page, err := fs.Sub(dist, "dist")
	if err != nil {
		return nil
	}
	if _, err := fs.Stat(page, "index.html"); err != nil {
		return nil
	}
	return page
}
