// Command faultwright opens the window of the handbook.
package main

import (
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"runtime/debug"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"github.com/go-gl/glfw/v3.4/glfw"

	_ "faultwright/cmd/faultwright/cachelife" // before the window library
	vehicles "faultwright/faulttree/logbook/store"
	practice "faultwright/faulttree/practice/store"
	"faultwright/faulttree/visit/store"
	"faultwright/gui"
	"faultwright/gui/session"
)

//go:embed icon.png
var icon []byte

// metadata says the same as FyneApp.toml; a test holds them together.
var metadata = fyne.AppMetadata{
	ID:      "net.faultwright.desk",
	Name:    "Faultwright",
	Version: "0.1.0",
	Build:   1,
}

// idleGrowth is how far, in percent, memory may grow before it is collected. A
// window that mostly waits has time to collect often.
const idleGrowth = 20

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, os.Getenv)) }

// run is main with the outside world as arguments. It returns the exit code:
// 0 after the window was closed, 1 if no window can be opened, 2 for bad
// arguments.
func run(args []string, out, errs io.Writer, env func(string) string) int {
	flags := flag.NewFlagSet("faultwright", flag.ContinueOnError)
	flags.SetOutput(errs)
	content := flags.String("content", "", "read the handbook from this `folder` instead of the built-in one")
	version := flags.Bool("version", false, "print the version and stop")
	if err := flags.Parse(args); errors.Is(err, flag.ErrHelp) {
		return 0
	} else if err != nil {
		return 2
	}
	if flags.NArg() > 0 {
		fmt.Fprintf(errs, "faultwright: %q is not understood; see faultwright -h.\n", flags.Arg(0))
		return 2
	}
	if *version {
		fmt.Fprintf(out, "%s %s\n", metadata.Name, metadata.Version)
		return 0
	}
	if err := checkDisplay(env); err != nil {
		fmt.Fprintf(errs, "faultwright: %v\n", err)
		return 1
	}
	options := gui.Options{ContentDir: *content}
	visits, settings, problem := kept(env)
	if problem != nil {
		fmt.Fprintf(errs, "faultwright: nothing will be kept: %v\n", problem)
		options.Problem = "Nothing of this will be kept after the window is closed: " + problem.Error() + "."
	} else {
		defer visits.Close()
		options.Visits, options.Settings = session.OnDisk(visits), settings
		if vehicles, err := keptVehicles(env); err != nil {
			options.Problem = "Vehicles will not be kept: " + err.Error() + "."
		} else {
			defer vehicles.Close()
			options.Vehicles = vehicles
		}
		if attempts, err := keptPractice(env); err != nil {
			options.Problem += " Attempts at practice will not be kept: " + err.Error() + "."
		} else {
			defer attempts.Close()
			options.Practice = session.OnDisk(attempts)
		}
	}
	if err := show(options); err != nil {
		fmt.Fprintf(errs, "faultwright: %v\n", err)
		return 1
	}
	return 0
}

// kept finds where visits and settings are kept. Without such a place the
// window works all the same, and says that it keeps nothing.
func kept(env func(string) string) (visits *store.Store, settings string, err error) {
	folder, err := store.Folder(env)
	if err != nil {
		return nil, "", err
	}
	if settings, err = session.SettingsPath(env); err != nil {
		return nil, "", err
	}
	visits, err = store.Open(folder)
	return visits, settings, err
}

// keptVehicles finds where the reader's own vehicles are kept.
func keptVehicles(env func(string) string) (*vehicles.Store, error) {
	folder, err := vehicles.Folder(env)
	if err != nil {
		return nil, err
	}
	return vehicles.Open(folder)
}

// keptPractice finds where attempts at practice are kept.
func keptPractice(env func(string) string) (*practice.Store, error) {
	folder, err := practice.Folder(env)
	if err != nil {
		return nil, err
	}
	return practice.Open(folder)
}

// show opens the window and returns once it is closed. A windowing library
// that gives up before the window is there does so by panic; that becomes an
// error. A panic afterwards is a mistake of ours and keeps its trace.
func show(options gui.Options) (err error) {
	opened := false
	defer func() {
		if opened {
			return
		}
		if r := recover(); r != nil {
			err = fmt.Errorf("no window could be opened (%v); the handbook can also be read with faultwright-cli", r)
		}
	}()
	options.Started = func() {
		opened = true
		debug.SetGCPercent(idleGrowth)
	}
	options.Screen = workArea
	options.Indexed = debug.FreeOSMemory // reading and indexing leave much behind
	app.SetMetadata(metadata)
	a := app.NewWithID(metadata.ID)
	a.SetIcon(fyne.NewStaticResource("faultwright.png", icon))
	gui.New(a, options).ShowAndRun()
	return nil
}

// workArea is the room for windows on the first screen, in pixels; nothing if
// there is no telling. The window library draws through GLFW and has no call of
// its own for this. It must be asked on the main goroutine, after the start.
func workArea() fyne.Size {
	screen := glfw.GetPrimaryMonitor()
	if screen == nil {
		return fyne.Size{}
	}
	_, _, width, height := screen.GetWorkarea()
	return fyne.NewSize(float32(width), float32(height))
}
