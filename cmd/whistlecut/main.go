// Command whistlecut is the command line of Whistlecut: the same use cases as
// the desktop, one small file per command. Exit status: 0 done or everything
// agrees, 3 differences found, 2 bad usage, 1 failure.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/alecthomas/kong"

	"whistlecut/app"
)

// Exit statuses, documented in the help text.
const (
	exitDone    = 0
	exitFailure = 1
	exitUsage   = 2
	exitDiffers = 3
)

// errDiffers is returned by commands that ran well and found differences.
var errDiffers = errors.New("differences found")

// env is what every command runs with.
type env struct {
	ctx    context.Context
	app    *app.App
	out    io.Writer
	err    io.Writer
	in     io.Reader
	asJSON bool
}

// commands is the whole command line.
type commands struct {
	JSON   bool   `help:"Print the result as JSON." name:"json"`
	Author string `help:"Your name, kept beside every edit you make; without it the account's name." env:"WHISTLECUT_AUTHOR" placeholder:"NAME"`

	Desk        deskCmd        `cmd:"" help:"Open the desktop, on a bout if one is named. No command at all does the same."`
	Stage       stageCmd       `cmd:"" help:"Stage an invented bout: film, official sheet and a bout file to try things on."`
	New         newCmd         `cmd:"" help:"Start a bout file from footage and paperwork."`
	Sheet       sheetCmd       `cmd:"" help:"Read an official sheet, show how its columns were understood, check it in itself."`
	Tags        tagsCmd        `cmd:"" help:"Export or import tags as JSON."`
	Check       checkCmd       `cmd:"" help:"Compare the official sheet with the recount from the tags, line by line."`
	Find        findCmd        `cmd:"" help:"List moments by skater, penalty, situation or score."`
	Cut         cutCmd         `cmd:"" help:"Cut clips, exact to the frame."`
	Reel        reelCmd        `cmd:"" help:"Collect moments into a reel, order and word it, make it into a film."`
	Pack        packCmd        `cmd:"" help:"Pack one skater's clips with a page for her phone."`
	Example     exampleCmd     `cmd:"" help:"Mark examples for officials' training, give verdicts and opinions on them."`
	Quiz        quizCmd        `cmd:"" help:"Make a quiz of examples: a film that tells no answer, answer sheets, the solution."`
	Collect     collectCmd     `cmd:"" help:"Search all bouts of this machine at once, by skater, rule, verdict or words."`
	Skater      skaterCmd      `cmd:"" help:"Show one skater's numbers: jams, points, each penalty and what it cost."`
	Numbers     numbersCmd     `cmd:"" help:"Show a bout in numbers: jammers, line-ups, power jams, runs, penalties."`
	Agreement   agreementCmd   `cmd:"" help:"Say how far a group agrees on a quiz, and what a training changed."`
	Print       printCmd       `cmd:"" help:"Print findings, numbers or skaters' pages as PDF."`
	Interchange interchangeCmd `cmd:"" help:"Give a bout or a reel to editing programs: OpenTimelineIO, chapters, CSV."`
	Listen      listenCmd      `cmd:"" help:"Hear the officials' whistles of a film."`
	Align       alignCmd       `cmd:"" help:"Place the jams on the film by ear or by hand and list where each one is."`
	Merge       mergeCmd       `cmd:"" help:"Take in a colleague's copy of the same bout."`
	Doctor      doctorCmd      `cmd:"" help:"Say what this machine has and lacks, and whether a bout file is sound."`
	Bench       benchCmd       `cmd:"" help:"Measure exactness and speed on this machine."`
}

const description = `Whistlecut lines bout footage up with a tagged timeline of jams, trips and
penalties, recounts the score by the published rules, compares it with the
official sheet and cuts clips. It shows where to look; the head referee's
decision is final.

Exit status: 0 done or everything agrees, 3 differences found, 2 bad usage,
1 failure.

Examples:
  whistlecut stage demo
  whistlecut check demo/demo.bout
  whistlecut find demo/demo.bout --situation "power jam"
  whistlecut cut demo/demo.bout --kind penalty --skater "home 052" --into clips
  whistlecut cut --footage film.mp4 --from 12:30 --to 13:10 --into clips
`

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run is main without the process: it parses args, runs one command and
// returns the exit status.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) (code int) {
	defer func() {
		// A panic is our bug; a person gets a sentence and the work on disk is safe.
		if p := recover(); p != nil {
			if os.Getenv("WHISTLECUT_TRACE") != "" {
				errOut.Write(debug.Stack())
			}
			fmt.Fprintf(errOut, "whistlecut: something went wrong inside the program (%v). Confirmed edits are safe; please report this.\n", p)
			code = exitFailure
		}
	}()
	var c commands
	exited := -1
	printed := &checkedWriter{to: out}
	out = printed
	parser, err := kong.New(&c, kong.Name("whistlecut"), kong.Description(description), helpWords,
		kong.Writers(out, errOut), kong.Exit(func(n int) { exited = n }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}))
	if err != nil {
		fmt.Fprintln(errOut, "whistlecut:", err)
		return exitFailure
	}
	parser.Model.HelpFlag.Help = "Show this help."
	if len(args) == 0 {
		if args = []string{"--help"}; display() {
			args = []string{"desk"}
		}
	}
	k, err := parser.Parse(args)
	if exited >= 0 {
		return exited // help was printed
	}
	if err != nil {
		fmt.Fprintf(errOut, "whistlecut: %s\n", parserSentence(err))
		return exitUsage
	}
	a := app.New(c.Author)
	a.Progress = progressPrinter(errOut)
	e := &env{ctx: ctx, app: a, out: out, err: errOut, in: in, asJSON: c.JSON}
	err = k.Run(e)
	if printed.err != nil {
		err = fmt.Errorf("cannot print the result: %w", printed.err)
	}
	var bad usageError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errDiffers):
		return exitDiffers
	case errors.As(err, &bad):
		fmt.Fprintf(errOut, "whistlecut: %v\n", err)
		return exitUsage
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(errOut, "whistlecut: stopped; what was finished stays, and nothing half-written was left behind")
		return exitFailure
	}
	fmt.Fprintf(errOut, "whistlecut: %v\n", err)
	return exitFailure
}
