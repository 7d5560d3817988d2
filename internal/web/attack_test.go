package web

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Pages of others may not ask, by whatever name they lead here.
func TestOtherPagesAreTurnedAway(t *testing.T) {
	s, dir := site(t, "")
	before, _ := os.ReadFile(filepath.Join(dir, "larch-hollow.yaml"))
	for name, c := range map[string]struct {
		status int
		set    func(*http.Request)
	}{
		"another site":        {403, func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }},
		"another origin":      {403, func(r *http.Request) { r.Header.Set("Origin", "http://evil.example") }},
		"a name server lies":  {421, func(r *http.Request) { r.Host = "evil.example" }},
		"another port's name": {421, func(r *http.Request) { r.Host = "evil.example:8460" }},
		"an empty host":       {421, func(r *http.Request) { r.Host = "." }},
	} {
		status, h, _ := ask(t, s, "PUT", "/api/plans/larch-hollow.yaml", PlanWrite{"mine", ""}, c.set)
		if status != c.status {
			t.Errorf("%s: %d, want %d", name, status, c.status)
		}
		if h.Get("Access-Control-Allow-Origin") != "" {
			t.Errorf("%s: told that others may ask", name)
		}
	}
	if after, _ := os.ReadFile(filepath.Join(dir, "larch-hollow.yaml")); string(after) != string(before) {
		t.Error("the plan was written")
	}
}

// Where a token is set nothing is told without it, and the link that carries it leads on without it.
func TestToken(t *testing.T) {
	s, _ := site(t, "0123456789abcdef")
	for _, path := range []string{"/", "/api/plans", "/api/openapi.json", "/?token=wrong", "/assets/a-1.js"} {
		if status, _, text := ask(t, s, "GET", path, nil); status != 401 || strings.Contains(text, "larch") {
			t.Errorf("%s without the token: %d", path, status)
		}
	}
	if status, h, text := ask(t, s, "GET", "/", nil, func(r *http.Request) { r.Header.Set("Accept", "text/html,*/*;q=0.8") }); status != 401 || !strings.HasPrefix(h.Get("Content-Type"), "text/plain") || !strings.Contains(text, "terminal shows") {
		t.Errorf("a browser without the token: %d, %s", status, text)
	}
	status, h, _ := ask(t, s, "GET", "/?token=0123456789abcdef", nil)
	set := h.Get("Set-Cookie")
	if status != 303 || h.Get("Location") != "/" || !strings.Contains(set, "HttpOnly") || !strings.Contains(set, "SameSite=Lax") {
		t.Errorf("the link: %d to %s, %s", status, h.Get("Location"), set)
	}
	if status, _, _ = ask(t, s, "GET", "/api/plans", nil, func(r *http.Request) { r.Header.Set("Cookie", strings.Split(set, ";")[0]) }); status != 200 {
		t.Errorf("with the cookie: %d", status)
	}
	if status, _, _ = ask(t, s, "GET", "/api/plans", nil, func(r *http.Request) { r.Header.Set("Authorization", "Bearer 0123456789abcdef") }); status != 200 {
		t.Errorf("with the token in the head: %d", status)
	}
	if status, _, _ = ask(t, s, "PUT", "/api/plans/x.yaml?token=0123456789abcdef", PlanWrite{"x", ""}); status != 401 {
		t.Errorf("a write by a link: %d", status)
	}
}

// No name leads out of the folder, and nothing too large is taken in.
func TestNoWayOutAndNoFlood(t *testing.T) {
	s, dir := site(t, "")
	secret := filepath.Join(filepath.Dir(dir), "secret.yaml")
	if err := os.WriteFile(secret, []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"..%2Fsecret.yaml", "%2e%2e%2fsecret.yaml", "..%5Csecret.yaml", "%2Fetc%2Fpasswd", ".hidden.yaml", "a%00.yaml"} {
		status, _, text := ask(t, s, "GET", "/api/plans/"+name, nil)
		if status == 200 || strings.Contains(text, "secret\"") && strings.Contains(text, "\"text\"") {
			t.Errorf("%s: %d %.100s", name, status, text)
		}
		if status, _, _ = ask(t, s, "PUT", "/api/plans/"+name, PlanWrite{"mine", ""}); status == 200 {
			t.Errorf("%s was written", name)
		}
	}
	if text, _ := os.ReadFile(secret); string(text) != "secret" {
		t.Errorf("what lies outside reads %q", text)
	}
	if status, _, _ := ask(t, s, "PUT", "/api/plans/big.yaml", PlanWrite{strings.Repeat("x", mostBody), ""}); status != 413 && status != 422 {
		t.Errorf("a plan of %d bytes: %d", mostBody, status)
	}
	if _, err := os.Stat(filepath.Join(dir, "big.yaml")); err == nil {
		t.Error("it was written")
	}
}

// The interface is described, whole, as OpenAPI 3.1.
func TestInterfaceIsDescribed(t *testing.T) {
	s, _ := site(t, "")
	status, _, text := ask(t, s, "GET", "/api/openapi.json", nil)
	if status != 200 || !strings.Contains(text, `"openapi":"3.1.0"`) {
		t.Fatalf("%d %.100s", status, text)
	}
	for _, path := range []string{"/api/plans", "/api/plans/{name}", "/api/look", "/api/winter"} {
		if !strings.Contains(text, `"`+path+`"`) {
			t.Errorf("%s is not described", path)
		}
	}
	if strings.Contains(text, `"servers"`) || strings.Contains(text, `"externalDocs"`) {
		t.Error("it leads elsewhere")
	}
}
