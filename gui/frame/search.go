package frame

import "faultwright/gui/place"

// searchFor follows the search entry as it is typed.
func (f *Frame) searchFor(words string) {
	at := f.Here()
	if at.Page == place.SearchPage {
		if at.Query == words {
			return
		}
		at.Query, at.Offset = words, 0
		f.history.Replace(at)
		f.Render()
		return
	}
	if words != "" {
		f.Go(place.Search(words))
		f.Focus(f.shell.search)
	}
}

// leaveSearch empties the entry and goes back to the page before the search.
func (f *Frame) leaveSearch() {
	if f.Here().Page == place.SearchPage {
		f.Back()
	}
	f.shell.search.SetText("")
	f.window.Canvas().Unfocus()
	f.Render()
}

// firstHit opens the first hit of the search that is shown.
func (f *Frame) firstHit() {
	if at := f.Here(); at.Page == place.SearchPage && f.options.FirstHit != nil {
		f.options.FirstHit(at)
	}
}

// StartSearch puts the keyboard into the search entry. Where the page has none
// the page of the search is shown, if one may go there.
func (f *Frame) StartSearch() {
	s := f.shell
	if !s.searchable(s.at) {
		f.Go(place.Search(s.search.Text))
	}
	if s.searchable(s.at) {
		s.root.SetOffset(0)
		f.Focus(s.search)
	}
}
