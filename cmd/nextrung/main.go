// Command nextrung reads the workouts that a trainer's clients exported from their watches, measures
// how the heart behaves, and recommends, with reasons, whether a client should move up a stage.
// Run `nextrung -h` for the commands, and `nextrung COMMAND -h` for an example of each.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal ends the program whatever it is doing
	code := run(ctx, os.Args[1:], surroundings{
		in: os.Stdin, out: os.Stdout, err: os.Stderr, now: time.Now,
		terminal: isTerminal(os.Stderr), browse: openBrowser,
	})
	stop()
	os.Exit(code)
}
