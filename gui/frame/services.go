package frame

import (
	"errors"
	"net/url"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"faultwright/content/plainfile"
	"faultwright/content/view"
	"faultwright/faulttree/source"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// SetLook sets the colours, by name, and the size of text.
func (f *Frame) SetLook(colours string, size float32) {
	mode, _ := look.ParseMode(colours) // a name that is not known is as the desktop says
	f.app.Settings().SetTheme(look.NewTheme(mode, size))
	if f.shell != nil {
		f.shell.retext()
	}
}

// Copy puts a text on the clipboard.
func (f *Frame) Copy(text string) { f.app.Clipboard().SetContent(source.Shown(text)) }

// CopyPage puts the page on the clipboard as text.
func (f *Frame) CopyPage() {
	text := f.page.Text
	if text == "" {
		for _, o := range append(f.page.Body[:len(f.page.Body):len(f.page.Body)], f.page.Foot) {
			text += look.TextOf(o) + "\n"
		}
	}
	f.Copy(text)
	f.Say("This page is on the clipboard as text.")
}

// Follow goes where a link of a document leads: to a document or a step of
// the handbook, or, after asking, to a citation on the web. Anything else is
// told, never opened.
func (f *Frame) Follow(target string) {
	scheme, id, _ := strings.Cut(target, ":")
	switch kind := view.Kind(scheme); kind {
	case view.KindCard, view.KindCaution, view.KindFault, view.KindSource, view.KindTree, view.KindStep:
		f.Go(place.Document(kind, id))
		return
	}
	u, err := url.Parse(target)
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" {
		f.Say("The link “" + target + "” leads nowhere that this program opens.")
		return
	}
	dialog.ShowConfirm("Open in the web browser?", source.Shown(u.String()), func(yes bool) {
		if !yes {
			return
		}
		if err := f.app.OpenURL(u); err != nil {
			f.Say("The web browser could not be started: " + err.Error())
		}
	}, f.window)
}

// OpenFile opens a file of this machine, which the reader has just saved, with
// the program that the desktop has for it.
func (f *Frame) OpenFile(u *url.URL) error {
	if u.Scheme != "file" {
		return errors.New("only a file of this machine is opened")
	}
	return f.app.OpenURL(u)
}

// AskSave asks where to save a file; w is nil if the reader thought better of
// it.
func (f *Frame) AskSave(name, ending string, then func(w fyne.URIWriteCloser, err error)) {
	ask := dialog.NewFileSave(then, f.window)
	ask.SetFileName(name + ending)
	ask.SetFilter(storage.NewExtensionFileFilter([]string{ending}))
	f.showAsking(ask)
}

// AskOpen asks for a file to read; r is nil if the reader thought better of it.
func (f *Frame) AskOpen(ending string, then func(r fyne.URIReadCloser, err error)) {
	ask := dialog.NewFileOpen(then, f.window)
	ask.SetFilter(plainOnly{storage.NewExtensionFileFilter([]string{ending})})
	f.showAsking(ask)
}

// AskFolder asks for a folder; at is nil if the reader thought better of it.
func (f *Frame) AskFolder(then func(at fyne.ListableURI, err error)) {
	f.showAsking(dialog.NewFolderOpen(then, f.window))
}

// plainOnly leaves out of a choice of files what is no plain file: the window
// library opens what is chosen, and opening a pipe waits.
type plainOnly struct{ storage.FileFilter }

// Matches reports whether a file is offered.
func (p plainOnly) Matches(u fyne.URI) bool {
	return p.FileFilter.Matches(u) && plainfile.IsPlain(u.Path())
}

func (f *Frame) showAsking(ask *dialog.FileDialog) {
	ask.Show()
	room := f.window.Canvas().Size()
	ask.Resize(fyne.NewSize(min(room.Width-24, 900), min(room.Height-24, 640))) // only a dialog that is shown has a size
}
