package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"
	"strings"
	"time"

	"github.com/alecthomas/kong"
)

// Exit codes, as the help text says them.
const (
	exitFine     = 0 // a finding, or the command did what it was asked
	exitErrors   = 1 // check found errors, or a search nothing
	exitBadInput = 2 // an option, a name or a reading is wrong, or something could not be written
	exitRanOut   = 3 // the readings ended, or the reader did, before a finding
)

// commands is the grammar of the command line.
type commands struct {
	Content string `placeholder:"DIR" help:"Use the handbook in this folder instead of the one inside the program."`

	Walk       walkCommand       `cmd:"" help:"Take a walk from a complaint to a finding, asking in the terminal or taking readings from a file."`
	Check      checkCommand      `cmd:"" help:"Check a handbook: every error of its documents."`
	Search     searchCommand     `cmd:"" help:"Search the handbook, by words or by a reading."`
	Suspects   suspectsCommand   `cmd:"" help:"Say which faults fit an account of a vehicle: readings in any order, what was seen and tried."`
	Show       showCommand       `cmd:"" help:"Show a card, caution, fault, source, walk, step, finding, rig or scenario as text."`
	Print      printCommand      `cmd:"" help:"Make a page to pin up of a walk, chart, card or caution, the form for readings, or the whole handbook."`
	Scenario   scenarioCommand   `cmd:"" help:"List, show, check and save vehicles to practise on, or play one."`
	Assign     assignCommand     `cmd:"" help:"Put scenarios into an assignment, one file to be handed out to a class."`
	HandIn     handInCommand     `cmd:"" help:"Gather your attempts at an assignment into one file to hand in."`
	Mark       markCommand       `cmd:"" help:"Verify and mark the attempts that a class handed in."`
	Replay     replayCommand     `cmd:"" help:"Go through an attempt act by act."`
	Measure    measureCommand    `cmd:"" help:"Compute what a meter shows on a rig, with faults in force."`
	Trial      trialCommand      `cmd:"" help:"Send drawn vehicles down a walk and say where they end."`
	Optimum    optimumCommand    `cmd:"" help:"For authors: what a walk costs beside the best order of asking, and where it loses most."`
	Remaining  remainingCommand  `cmd:"" help:"Compute which dangers the findings of a walk leave possible."`
	Report     reportCommand     `cmd:"" help:"Make the sheet of a visit for whoever repairs it."`
	Visits     visitsCommand     `cmd:"" help:"List the visits on record."`
	Delete     deleteCommand     `cmd:"" help:"Delete a visit from the record."`
	Vehicle    vehicleCommand    `cmd:"" help:"List and show your own vehicles, give them visits, put one into a file, or take one out of it."`
	Completion completionCommand `cmd:"" help:"Print the completion script of a shell."`
	Names      namesCommand      `cmd:"" hidden:"" help:"Print names for completion."`
}

const (
	description = "A diagnostic handbook for the electricity of recreational vehicles, in a terminal."

	examples = `
Examples:
  faultwright-cli walk body-voltage
  faultwright-cli walk pedestal-50a --readings sheet.yaml --json
  faultwright-cli walk --resume 2026-05-03-k7fqm
  faultwright-cli search tingle from the door
  faultwright-cli suspects --fact service=50a panel, loads on: L1-N 59 L2-N 177
  faultwright-cli show ghost-voltage
  faultwright-cli print body-voltage --paper letter --out body-voltage.html
  faultwright-cli measure coach-50a --fault open-neutral --load l1=1500 --load l2=500 panel.l1-n panel.l2-n
  faultwright-cli report 2026-05-03-k7fqm --out sheet.html
  faultwright-cli check my-handbook
  faultwright-cli scenario play bright-over-the-sink
  faultwright-cli trial pedestal-50a --rigs 20000 --picture matrix.svg
  faultwright-cli --content my-handbook remaining body-voltage --write

A file of readings says what the meter showed:
  pedestal.l1-n: 118.4 V
  body-earth: [58, 57.5]             # in order, where a step is read again
  pedestal.n-g: "not possible: wet"
  half-dead#tripped: gfci            # the answer to a question

Exit codes:
  0  a finding was reached, or the command did what it was asked
  1  check found errors, a trial a false all-clear, or a search nothing
  2  an option, a name, a file or a reading is wrong, or the output cannot be
     written
  3  the readings ended before a finding

Environment:
  NO_COLOR            no colour on the terminal
  XDG_DATA_HOME       visits are kept in faultwright/visits below it
  SOURCE_DATE_EPOCH   the time to use instead of the clock, in seconds
`
)

// program is the world around a command.
type program struct {
	ctx      context.Context
	in       *bufio.Reader
	out, err io.Writer
	now      func() time.Time
	env      func(string) string
	content  string // folder of the handbook, "" for the shipped one
}

// failure ends the program with a code and a message.
type failure struct {
	code int
	err  error
}

func (f failure) Error() string { return f.err.Error() }

// bad is a failure over something the user gave.
func bad(format string, args ...any) error {
	return failure{exitBadInput, fmt.Errorf(format, args...)}
}

// ended ends the program with a code and nothing more to say.
type ended int

func (e ended) Error() string { return "exit code " + strconv.Itoa(int(e)) }

// run is the whole program: arguments and streams in, exit code out.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer, env func(string) string) int {
	out, errs := &output{w: stdout}, &output{w: stderr}
	code := command(ctx, args, stdin, out, errs, env)
	if out.err != nil {
		fmt.Fprintln(errs, "faultwright-cli: the output cannot be written:", clean(out.err.Error()))
	}
	if out.err != nil || errs.err != nil {
		return exitBadInput
	}
	return code
}

// command runs the command that the arguments name.
func command(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer, env func(string) string) int {
	var c commands
	helped := false
	parser, err := kong.New(&c,
		kong.Name("faultwright-cli"), kong.Description(description),
		kong.Writers(stdout, stderr), kong.Exit(func(int) { helped = true }),
		kong.ConfigureHelp(kong.HelpOptions{NoExpandSubcommands: true, WrapUpperBound: 100}),
		kong.Help(help),
	)
	if err != nil {
		fmt.Fprintln(stderr, "faultwright-cli:", err)
		return exitBadInput
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	parsed, err := parser.Parse(minusSigns(args))
	if helped {
		return exitFine
	}
	if err == nil {
		err = emptyName(parsed)
	}
	if err != nil {
		fmt.Fprintf(stderr, "faultwright-cli: %s\nTry: faultwright-cli --help\n", clean(err.Error()))
		return exitBadInput
	}
	p := &program{ctx: ctx, in: bufio.NewReaderSize(stdin, longestLine), out: stdout, err: stderr, env: env, content: c.Content}
	if p.now, err = clockOf(env); err == nil {
		err = parsed.BindToProvider(p.library) // for the commands that take a handbook
	}
	if err == nil {
		err = parsed.Run(p)
	}
	var end ended
	var fail failure
	switch {
	case err == nil:
		return exitFine
	case errors.As(err, &end):
		return int(end)
	case errors.As(err, &fail):
		fmt.Fprintln(stderr, "faultwright-cli:", clean(fail.Error()))
		return fail.code
	}
	fmt.Fprintln(stderr, "faultwright-cli:", clean(err.Error()))
	return exitBadInput
}

// emptyName reports an argument, or an option that names a thing, that is given
// without text, as a variable of a script leaves it that was never set: what is
// done without the option is not what was asked for. Options without a
// placeholder are remarks, which may be empty.
func emptyName(parsed *kong.Context) error {
	for _, given := range parsed.Path {
		switch {
		case given.Flag != nil && given.Flag.PlaceHolder != "" && blankText(given.Flag.Value):
			return fmt.Errorf("--%s is given without its %s; name it, or leave the option off", given.Flag.Name, given.Flag.PlaceHolder)
		case given.Positional != nil && blankText(given.Positional):
			return fmt.Errorf("<%s> is given as empty text; name it, or leave it off", given.Positional.Name)
		}
	}
	return nil
}

// blankText reports whether a value is a text, and holds none.
func blankText(v *kong.Value) bool {
	return v.Target.Kind() == reflect.String && strings.TrimSpace(v.Target.String()) == ""
}

// help adds examples and exit codes to the help of the whole program.
func help(options kong.HelpOptions, ctx *kong.Context) error {
	if err := kong.DefaultHelpPrinter(options, ctx); err != nil {
		return err
	}
	if ctx.Selected() == nil {
		fmt.Fprint(ctx.Stdout, examples)
	}
	return nil
}

// lastSecond is the last one that a date can be written for.
var lastSecond = time.Date(9999, 12, 31, 23, 59, 59, 0, time.UTC).Unix()

// clockOf is the clock, or the fixed time of reproducible output.
func clockOf(env func(string) string) (func() time.Time, error) {
	text := env("SOURCE_DATE_EPOCH")
	if text == "" {
		return time.Now, nil
	}
	seconds, err := strconv.ParseInt(text, 10, 64)
	if err != nil || seconds < 0 || seconds > lastSecond {
		return nil, fmt.Errorf("the variable SOURCE_DATE_EPOCH is %q; expected whole seconds since the beginning of 1970, such as 1777818600, up to %d", text, lastSecond)
	}
	return func() time.Time { return time.Unix(seconds, 0).UTC() }, nil
}
