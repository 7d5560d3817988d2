// Command suncellar computes the winter of unheated, sunken, sun-facing greenhouses. See docs/commands.md.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"suncellar/internal/cli"
)

// collect is how much rubbish may lie about, in per cent of what is in use, before it is cleared away: a year then fits in 40 MB, and takes no longer than by
// Go's own rule; many winters a thirtieth longer.
const collect = 15

func main() { os.Exit(run()) }

// run is the program in the process's own surroundings; what it returns is the exit code.
func run() int {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collect)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	go func() { // a second interrupt ends the program at once
		<-ctx.Done()
		stop()
	}()
	err := cli.Run(ctx, os.Args[1:], cli.Process())
	cli.TellError(os.Stderr, err)
	return cli.ExitCode(err)
}
