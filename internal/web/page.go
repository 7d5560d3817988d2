package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
)

// asset is a file of the page, packed once.
type asset struct {
	plain, packed []byte
	kind, tag     string
	lasting       bool // its name changes with its content
}

// page serves the built page: what is not a file of it is its index, so that an address of the page can be opened anew.
func (s *Server) page() http.Handler {
	files := map[string]*asset{}
	if s.Page != nil {
		_ = fs.WalkDir(s.Page, ".", func(name string, d fs.DirEntry, err error) error {
			if err == nil && d.Type().IsRegular() {
				if text, err := fs.ReadFile(s.Page, name); err == nil {
					files[name] = newAsset(name, text)
				}
			}
			return nil
		})
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
		a := files[name]
		switch {
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			refuse(w, http.StatusMethodNotAllowed, "the page is only read")
			return
		case strings.HasPrefix(name, "api/"):
			refuse(w, http.StatusNotFound, "the interface has no "+r.URL.Path+"; /api/openapi.json tells what it has")
			return
		case a == nil && path.Ext(name) == "":
			a = files["index.html"]
		}
		if a == nil {
			refuse(w, http.StatusNotFound, "the page has no "+r.URL.Path)
			return
		}
		a.serve(w, r)
	})
}

func newAsset(name string, text []byte) *asset {
	a := &asset{plain: text, kind: mime.TypeByExtension(path.Ext(name)), lasting: strings.HasPrefix(name, "assets/")}
	sum := sha256.Sum256(text)
	a.tag = `"` + hex.EncodeToString(sum[:12]) + `"`
	var b bytes.Buffer
	z, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	z.Write(text)
	z.Close()
	if b.Len() < len(text) {
		a.packed = b.Bytes()
	}
	return a
}

func (a *asset) serve(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("ETag", a.tag)
	h.Set("Vary", "Accept-Encoding")
	h.Set("Cache-Control", "no-cache")
	if a.lasting {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	if r.Header.Get("If-None-Match") == a.tag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	h.Set("Content-Type", a.kind)
	text := a.plain
	if a.packed != nil && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		h.Set("Content-Encoding", "gzip")
		text = a.packed
	}
	if r.Method == http.MethodGet {
		w.Write(text)
	}
}
