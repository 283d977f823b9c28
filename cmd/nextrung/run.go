package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// surroundings are what a command may touch of the world.
type surroundings struct {
	in       io.Reader
	out, err io.Writer
	now      func() time.Time
	terminal bool                       // err is a terminal, so that long work may show a bar
	browse   func(address string) error // opens a page in the browser; nil where there is none
}

// commands is the command line.
type commands struct {
	Book string `help:"Folder of the book (default: nextrung in the user's data folder)." placeholder:"DIR" env:"NEXTRUNG_BOOK"`

	Version kong.VersionFlag `help:"Show what the program was built from."`

	Start     startCommand     `cmd:"" default:"1" hidden:"" help:"Open the desk in the browser."`
	Demo      demoCommand      `cmd:"" help:"Make a book with an invented ferry crew, run its weeks and show the roster."`
	Inspect   inspectCommand   `cmd:"" help:"Show what files contain; no book needed."`
	Client    clientCommands   `cmd:"" help:"Your clients: add, set, show, list, forget and more."`
	Receive   receiveCommand   `cmd:"" help:"Enter a client's recordings."`
	Session   sessionCommand   `cmd:"" help:"Enter a session that was done without a recording."`
	Note      noteCommand      `cmd:"" help:"Enter what no sensor knows: effort, talk, enjoyment, symptoms."`
	Ask       askCommand       `cmd:"" help:"Write the weekly message that asks a client how the sessions went."`
	Week      weekCommand      `cmd:"" help:"The weekly job: receive the files in the drop folder, assess every client, write the pages."`
	Assess    assessCommand    `cmd:"" help:"Assess one client as of a day, with the reasons."`
	Decide    decideCommand    `cmd:"" help:"Enter the trainer's decision."`
	Prescribe prescribeCommand `cmd:"" help:"Next week's sessions by day, for the trainer, the client, a calendar and a watch."`
	Settings  settingsCommand  `cmd:"" help:"What you set once: who decides, where the drop folder is, the passphrase."`
	Verify    verifyCommand    `cmd:"" help:"Check the whole book: originals, decisions, database."`
	Report    reportCommand    `cmd:"" help:"Write the pages."`
	Policy    policyCommands   `cmd:"" help:"The rules: show, check, and try a change on your clients."`
	Serve     serveCommand     `cmd:"" help:"The desk: the weekly job in the browser, on this computer."`
	Rehearse  rehearseCommand  `cmd:"" help:"Try a policy on invented clients, for whom the right moment to move up is known."`
	Backup    backupCommand    `cmd:"" help:"Write the whole book into one checked file."`
	Restore   restoreCommand   `cmd:"" help:"Replace the book with a backup."`
	Export    exportCommand    `cmd:"" help:"Hand over everything about one client as an archive."`
	Licences  licencesCommand  `cmd:"" help:"The licences of everything inside the program; no book needed."`
}

// run runs one command line and returns its exit code.
func run(ctx context.Context, args []string, s surroundings) int {
	code := -1
	var cli commands
	book := opening{ctx: ctx, cli: &cli}
	defer book.close()
	parser, err := kong.New(&cli, kong.Name("nextrung"),
		kong.Description("Reads the workouts that clients exported from their watches and says, with its reasons, whether they are ready for the next stage. Without a command it opens the desk in the browser. Not a medical device: it measures and advises, the trainer decides."),
		kong.Vars{"version": coach.BuiltFrom()},
		kong.UsageOnError(), kong.Writers(s.out, s.err), kong.Exit(func(c int) { code = c }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}),
		kong.TypeMapper(dateType, kong.MapperFunc(decodeDate)),
		kong.Bind(&s), kong.BindTo(ctx, (*context.Context)(nil)), kong.BindToProvider(book.open),
	)
	if err != nil {
		fmt.Fprintln(s.err, "nextrung:", err)
		return failed
	}
	call, err := parser.Parse(args)
	if code >= 0 {
		return code
	}
	if err != nil {
		var fault *fault.Error
		if !errors.As(err, &fault) {
			err = misuse("%v", err)
		}
		return s.fail("", err)
	}
	book.asked = call.Selected().Target.Addr().Interface()
	return s.fail(strings.TrimPrefix(call.Selected().FullPath(), "nextrung "), call.Run(&cli))
}

// opening opens the book for a command whose Run asks for a coach, and spells the clients that the
// command line names as the book does.
type opening struct {
	ctx   context.Context
	cli   *commands
	asked any // the command
	coach *coach.Coach
}

// ofClients is a command about clients: who gives where their names are.
type ofClients interface{ who() []*string }

// ofClient is what commands about one client share.
type ofClient struct {
	Name string `arg:"" help:"The client."`
}

func (c *ofClient) who() []*string { return []*string{&c.Name} }

// asOf is what commands share that look at one day: the day given, or today.
type asOf struct {
	AsOf workout.Date `name:"as-of" help:"As of this day, with what had been received by then (default today)." placeholder:"D"`
}

// AfterApply refuses a day in the future.
func (a *asOf) AfterApply(s *surroundings) error {
	a.AsOf = s.orToday(a.AsOf)
	return coach.NotAhead("as_of", a.AsOf, s.today())
}

func (o *opening) open() (_ *coach.Coach, err error) {
	if o.coach, err = o.cli.openBook(o.ctx); err != nil {
		return nil, err
	}
	if named, ok := o.asked.(ofClients); ok {
		for _, name := range named.who() {
			if *name == "" {
				continue
			}
			if *name, err = o.coach.Named(o.ctx, *name); err != nil {
				return nil, err
			}
		}
	}
	return o.coach, nil
}

func (o *opening) close() {
	if o.coach != nil {
		o.coach.Close()
	}
}

// bookFolder is the folder that the command line, the environment or the user's data folder names.
func (c *commands) bookFolder() (string, error) {
	if c.Book != "" {
		return c.Book, nil
	}
	base, err := dataFolder()
	if err != nil {
		return "", fmt.Errorf("cannot find the user's data folder: %w; name the book with --book DIR", err)
	}
	return filepath.Join(base, "nextrung"), nil
}

// openBook opens the coach on an existing book, so that a mistyped folder does not create a new one.
func (c *commands) openBook(ctx context.Context) (*coach.Coach, error) {
	dir, err := c.bookFolder()
	if err != nil {
		return nil, err
	}
	if !coach.Exists(dir) {
		return nil, fault.New(fault.NotFound, "there is no book in %s; to use another, give its folder with --book DIR", dir).Helped(fault.AddClient, "")
	}
	return openInSight(ctx, dir)
}

// openInSight opens or makes a book whose drop folder people find.
func openInSight(ctx context.Context, dir string) (*coach.Coach, error) {
	co, err := coach.Open(ctx, dir)
	if err != nil {
		return nil, err
	}
	if err := inSight(ctx, co, dir); err != nil {
		co.Close()
		return nil, err
	}
	return co, nil
}

// inSight puts the drop folder of a book in a hidden folder where people find it, the folder nextrung in
// their home, unless they chose another place.
func inSight(ctx context.Context, co *coach.Coach, dir string) error {
	set, err := co.Settings(ctx)
	if err != nil || set.Drop != "" || !hidden(dir) {
		return err
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return fmt.Errorf("cannot find your home folder: %w; name the drop folder with `nextrung week --drop DIR`", err)
	}
	return co.UseDrop(ctx, filepath.Join(home, "nextrung"))
}

// hidden says that file managers do not show a folder, as far as its path shows.
func hidden(dir string) bool {
	local := os.Getenv("LOCALAPPDATA")
	return slices.ContainsFunc(strings.Split(filepath.ToSlash(dir), "/"), func(part string) bool { return len(part) > 1 && part[0] == '.' && part != ".." }) ||
		local != "" && strings.HasPrefix(dir, local)
}

// dataFolder is where the user's programs keep data: $XDG_DATA_HOME, else the usual place of the
// operating system.
func dataFolder() (string, error) {
	if d := cmp.Or(os.Getenv("XDG_DATA_HOME"), os.Getenv("LOCALAPPDATA")); d != "" {
		return d, nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", err
	}
	return filepath.Join(home, ".local", "share"), nil
}

// today is the day on the computer's own calendar.
func (s *surroundings) today() workout.Date {
	now := s.now()
	return workout.DateOf(now, now.Location())
}

// orToday is the day given, or today.
func (s *surroundings) orToday(d workout.Date) workout.Date { return cmp.Or(d, s.today()) }

// printJSON writes one value on one line.
func (s *surroundings) printJSON(v any) error {
	b, err := json.Marshal(v)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.out, "%s\n", b)
	return err
}
