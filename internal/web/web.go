// Package web is the door for people with a browser: it serves the page and the interface that the page uses, one file per noun.
//
// What it promises:
//
//   - Nothing is fetched from anywhere, and the page may load nothing from anywhere else.
//   - Only hosts that were named are answered, only the page itself may ask, and where a token is set only who has it.
//   - A request has a size, long work an end: when who asked goes away it stops. Work beyond what the machine does at once waits in a short line, then is refused.
//   - Values go out in SI with their kind; what is typed comes up as text and is read by the plan. Sentences are those of package report.
//   - An error has a status, a sentence and, where a value of a plan is at fault, its path.
package web

import (
	"context"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"suncellar/internal/folder"
)

// Options are what a server is made of.
type Options struct {
	Plans *folder.Folder
	Page  fs.FS    // the built page; nil: there is none, and only the interface is served
	Hosts []string // names and addresses that requests may be made to, without ports
	Token string   // who asks has to have it; "": nobody needs one, which is for loopback alone
	Log   *slog.Logger
}

// Server answers requests.
type Server struct {
	Options
	winters *winters
	worths  *worths
	drawn   drawn
	work    *line
	handler http.Handler
}

// New makes a server. It opens no socket.
func New(o Options) *Server {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	s := &Server{Options: o, winters: newWinters(), worths: &worths{}, work: newLine()}
	mux := http.NewServeMux()
	api := s.api(mux)
	s.plans(api)
	s.looks(api)
	s.answers(api)
	s.details(api)
	s.studies(api)
	s.worth(api)
	s.suns(api)
	s.waters(api)
	s.draws(api)
	s.drills(api)
	s.choices(api)
	s.words(api)
	mux.Handle("/", s.page())
	s.handler = s.guarded(mux)
	return s
}

// api is the interface, described as OpenAPI 3.1 at /api/openapi.json.
func (s *Server) api(mux *http.ServeMux) huma.API {
	huma.DefaultArrayNullable = false
	c := huma.DefaultConfig("Suncellar", "1")
	c.Info.Description = "What the page uses. Values are SI, temperatures °C; keys end in their unit. Edits go up as typed and are read as a plan file is."
	c.OpenAPIPath, c.DocsPath, c.SchemasPath = "/api/openapi", "", ""
	c.CreateHooks = nil // no link to a schema in every answer
	return humago.New(mux, c)
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

// How long parts of a request may take. Answers have no limit: long work tells how far it is and ends when who asked goes away.
const (
	headerTime = 10 * time.Second
	idleTime   = 2 * time.Minute
	endTime    = 5 * time.Second // for answers under way when the server ends
)

// Serve answers on a listener until ctx ends.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	h := &http.Server{Handler: s, ReadHeaderTimeout: headerTime, IdleTimeout: idleTime, MaxHeaderBytes: 1 << 16, BaseContext: func(net.Listener) context.Context { return ctx },
		ErrorLog: slog.NewLogLogger(s.Log.Handler(), slog.LevelWarn)}
	ended := make(chan error, 1)
	go func() { ended <- h.Serve(l) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), endTime)
	defer cancel()
	return h.Shutdown(last)
}
