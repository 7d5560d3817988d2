// Command suncellar computes the winter of unheated, sunken, sun-facing greenhouses. See docs/commands.md.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"suncellar/internal/cli"
)

func main() { os.Exit(run()) }

// run is the program in the process's own surroundings; what it returns is the exit code.
func run() int {
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
