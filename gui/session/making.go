package session

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"faultwright/content/plainfile"
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
