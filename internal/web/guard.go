package web

import (
	"crypto/subtle"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"
)

// mostBody is the largest request: a plan, and as much again for what JSON adds.
const mostBody = 4 << 20

// policy lets the page load from itself alone. Styles may stand in the page, since pictures bring theirs; scripts never.
const policy = "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// guarded lets through what may be asked, and keeps a failure to one request.
func (s *Server) guarded(next http.Handler) http.Handler {
	origin := http.NewCrossOriginProtection()
	inner := origin.Handler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.known(w, r) {
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostBody)
		next.ServeHTTP(w, r)
	}))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if bad := recover(); bad != nil {
				if bad == http.ErrAbortHandler {
					panic(bad)
				}
				s.Log.Error("a request failed", "path", r.URL.Path, "reason", fmt.Sprint(bad), "at", string(debug.Stack()))
				refuse(w, http.StatusInternalServerError, "the program failed on this request; the plan on the disk is as it was")
			}
		}()
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if !s.named(r.Host) {
			refuse(w, http.StatusMisdirectedRequest, "this server is not called "+r.Host)
			return
		}
		if strings.HasPrefix(r.URL.Path, "/api/") {
			h.Set("Cache-Control", "no-store")
		}
		inner.ServeHTTP(w, r)
	})
}

// named tells whether a host is one of the server's own names: a page of another name that leads here, by a name server that lies, is turned away.
func (s *Server) named(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = strings.Trim(host, "[]")
	}
	return slices.Contains(s.Hosts, strings.ToLower(name))
}

// cookie holds the token in a browser.
const cookie = "suncellar"

// known tells whether who asks may. A link with the token in it, as a phone reads it from the terminal, sets the cookie and leads on without it. The cookie goes
// along when a link is followed from elsewhere too (a letter, say), never with what pages of others send: those are turned away besides (guarded).
func (s *Server) known(w http.ResponseWriter, r *http.Request) bool {
	if s.Token == "" {
		return true
	}
	same := func(t string) bool { return subtle.ConstantTimeCompare([]byte(t), []byte(s.Token)) == 1 }
	if t, ok := strings.CutPrefix(r.Header.Get("Authorization"), "Bearer "); ok && same(t) {
		return true
	}
	if c, err := r.Cookie(cookie); err == nil && same(c.Value) {
		return true
	}
	if t := r.URL.Query().Get("token"); r.Method == http.MethodGet && t != "" && same(t) {
		http.SetCookie(w, &http.Cookie{Name: cookie, Value: s.Token, Path: "/", HttpOnly: true, SameSite: http.SameSiteLaxMode, MaxAge: 30 * 24 * 3600})
		w.Header().Set("Location", "/")
		w.WriteHeader(http.StatusSeeOther)
		return false
	}
	const how = "open the address that the terminal shows, with its token"
	if strings.Contains(r.Header.Get("Accept"), "text/html") { // somebody at a browser, who reads sentences
		http.Error(w, "This page is for who has its token: "+how+".", http.StatusUnauthorized)
		return false
	}
	refuse(w, http.StatusUnauthorized, how)
	return false
}

// refuse answers with a status and a sentence, as the interface's own errors do.
func refuse(w http.ResponseWriter, status int, why string) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(huma.ErrorModel{Title: http.StatusText(status), Status: status, Detail: why})
}
