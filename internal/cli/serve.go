package cli

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"syscall"

	"github.com/spf13/cobra"

	"suncellar/internal/folder"
	"suncellar/internal/web"
	"suncellar/ui"
)

type serveOptions struct{ addr string }

// usualAddr is where the page is served when nothing else is asked for: to this machine alone.
const usualAddr = "127.0.0.1:8460"

func (a *app) serve() *cobra.Command {
	var o serveOptions
	cmd := &cobra.Command{
		Use:   "serve [FOLDER|PLAN]",
		Short: "Open plans in the browser: shape a house by hand and watch its winter",
		Long: `Serve the page on which plans are shaped, to a browser on this machine, until Ctrl-C.
FOLDER holds the plans (the current one); a PLAN is opened at once. What is kept on the
page is written to the plan's file, whole or not at all; a plan that was changed
meanwhile is told, not written over.

Only this machine is answered. --addr with an address of the network opens the page to a
phone too, for whoever has the token that the address in the terminal carries. The
terminal draws that address as a square code, which the phone's camera opens.`,
		Example: `  suncellar serve
  suncellar serve plan.yaml
  suncellar serve plans --addr 0.0.0.0:8460`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage("use: "+useLine(cmd), "serve takes one folder or plan, got %s", arguments(len(args)))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			at := "."
			if len(args) == 1 {
				at = args[0]
			}
			return a.runServe(cmd.Context(), at, o)
		},
	}
	cmd.Flags().StringVar(&o.addr, "addr", "", "host and port that are listened on ("+usualAddr+", or a free port where that is taken)")
	return cmd
}

func (a *app) runServe(ctx context.Context, at string, o serveOptions) error {
	dir, name, err := folderOf(at)
	if err != nil {
		return err
	}
	page := ui.Page()
	if page == nil {
		return usage("build it with 'make build', which needs Node and npm", "this program was built without its page")
	}
	plans, err := folder.Open(dir)
	if err != nil {
		return plainPath(err)
	}
	defer plans.Close()
	l, err := listen(o.addr)
	if err != nil {
		return err
	}
	handler := slog.Handler(slog.NewTextHandler(a.Err, nil))
	if a.logFormat == "json" {
		handler = slog.NewJSONHandler(a.Err, nil)
	}
	options := web.Options{Plans: plans, Page: page, Log: slog.New(handler)}
	open, names := hostsOf(l.Addr().(*net.TCPAddr))
	options.Hosts = names
	if !loopback(l.Addr()) {
		options.Token = rand.Text()
	}
	a.tellLinks(links(open, l.Addr().(*net.TCPAddr).Port, options.Token, name), options.Token != "")
	if err := web.New(options).Serve(ctx, l); err != nil && ctx.Err() == nil {
		return err
	}
	return nil
}

// folderOf is the folder of plans, and the plan in it that is opened first.
func folderOf(at string) (dir, name string, err error) {
	info, err := os.Stat(at)
	switch {
	case err != nil:
		return "", "", fmt.Errorf("serving plans: %w", plainPath(err))
	case info.IsDir():
		return at, "", nil
	}
	return filepath.Dir(at), filepath.Base(at), nil
}

// listen opens the socket. The usual port may be taken; one that was asked for may not.
func listen(addr string) (net.Listener, error) {
	asked := addr != ""
	if !asked {
		addr = usualAddr
	}
	l, err := net.Listen("tcp", addr)
	if err != nil && !asked && errors.Is(err, syscall.EADDRINUSE) {
		l, err = net.Listen("tcp", "127.0.0.1:0")
	}
	if err != nil {
		return nil, usage("write host and port, such as "+usualAddr+"; port 0 takes a free one", "--addr %s: %v", addr, plainNet(err))
	}
	return l, nil
}

// plainNet leaves operation and address out of a network error.
func plainNet(err error) error {
	var op *net.OpError
	if errors.As(err, &op) {
		return op.Err
	}
	return err
}

func loopback(addr net.Addr) bool {
	tcp, ok := addr.(*net.TCPAddr)
	return ok && tcp.IP.IsLoopback()
}
