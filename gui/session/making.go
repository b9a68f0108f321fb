package session

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/plainfile"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
)

// mostDrafts is how many bytes the file of drafts may have.
const mostDrafts = 8 << 20

// KeepDrafts puts the scenarios that are being made on disk, whole, beside the
// settings. Where nothing is kept it does nothing.
func (s *Session) KeepDrafts(text []byte) error {
	if s.options.Settings == "" {
		return nil
	}
	return writeWhole(s.draftsPath(), text, 0o600)
}

// Drafts are the scenarios that were being made when the program ended; nil for
// none.
func (s *Session) Drafts() ([]byte, error) {
	if s.options.Settings == "" {
		return nil, nil
	}
	f, err := plainfile.Open(s.draftsPath())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close() // it was only read
	text, err := io.ReadAll(io.LimitReader(f, mostDrafts+1))
	if len(text) > mostDrafts {
		return nil, errors.New("the file is larger than drafts are")
	}
	return text, err
}

func (s *Session) draftsPath() string {
	return filepath.Join(filepath.Dir(s.options.Settings), "scenario-drafts.json")
}

// ReadScenario reads a scenario from outside with a handbook; tell is told how many bytes
// were read, nil for nobody. The error is the first thing that is wrong with it, with its
// place.
func ReadScenario(ctx context.Context, book *content.Library, name string, r io.Reader, tell func(bytes int)) (*content.Scenario, error) {
	s, list := load.Scenario(ctx, book, name, r, tell)
	switch {
	case s != nil:
		return s, nil
	case len(list) > 0:
		return nil, list[0]
	}
	return nil, errors.New("something is wrong with it")
}

// SaveScenario puts the text of a scenario into a file of this machine, whole: what
// was there stays until the new file is complete. It is an [fs.ErrExist], and nothing
// is touched, if there is something of that name already, unless that is to be
// written over.
func SaveScenario(path, text string, over bool) error {
	mode := fs.FileMode(0o644) // it is made to be handed out
	if info, err := os.Stat(path); err == nil {
		switch {
		case !over:
			return fs.ErrExist
		case !info.Mode().IsRegular():
			return plainfile.ErrNotPlain
		}
		mode = info.Mode().Perm()
	}
	err := writeWhole(path, []byte(text), mode)
	var failed *fs.PathError
	if errors.As(err, &failed) { // it names the temporary file, which nobody knows
		return failed.Err
	}
	return err
}

// Account is what the reader has told of a vehicle, outside of a visit. It outlives
// every page, and another handbook.
func (s *Session) Account() view.Account { return s.account }

// Tell puts another account in its place.
func (s *Session) Tell(a view.Account) { s.account = a }

// Reasoning says what fits an account, by the handbook in use and the reader's
// meter; nil until a handbook was read.
func (s *Session) Reasoning() *scenes.Reasoning {
	if s.book == nil {
		return nil
	}
	if r := s.reasoning; r == nil || r.Library() != s.book || r.Meter().Nameless() != s.settings.Meter.Nameless() {
		s.reasoning = scenes.NewReasoning(s.book, s.settings.Meter, s.options.Draw)
	}
	return s.reasoning
}

// BeginTold starts a visit of a tree with what an account tells: its facts, and
// each of its readings once, but for those that are doubtful or another's. It leads to the first step that still needs one. If
// the visit begins and they cannot be recorded, the outcome is the visit at its
// first step and the reason told.
func (s *Session) BeginTold(tree string, a view.Account) (Outcome, error) {
	begun, err := s.begin(faulttree.Ref{Tree: tree}, a.Facts)
	if err != nil {
		return Outcome{}, err
	}
	a, left := a.ForWalk(s.book, s.settings.Meter)
	if left > 0 {
		begun.Said = join(begun.Said, view.Count(left, "reading")+" not sure of, or told by somebody else, left out: the walk asks for what it needs.")
	}
	facts := maps.Clone(a.Facts)
	maps.DeleteFunc(facts, func(id, _ string) bool { return s.book.Forest.NamedFor(tree, id) }) // told of the vehicle, not of the receptacle
	next, err := s.Supply(begun.To.ID, faulttree.Supplied{Readings: a.Readings(), Facts: facts, Once: true})
	if err != nil {
		begun.Said = join(begun.Said, err.Error())
		return begun, nil
	}
	next.Said = join(begun.Said, next.Said)
	return next, nil
}
