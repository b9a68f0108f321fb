package place

// mostPlaces bounds the list that Back walks along.
const mostPlaces = 200

// History is the list of places visited and where in it the reader stands.
// The zero value stands nowhere.
type History struct {
	places []Location
	at     int
}

// Here is the place the reader stands at; the zero Location if nowhere.
func (h *History) Here() Location {
	if len(h.places) == 0 {
		return Location{}
	}
	return h.places[h.at]
}

// Go adds a place after the present one and stands there; places forward of
// the present one are forgotten. Going to where one stands adds nothing.
func (h *History) Go(l Location) {
	if len(h.places) > 0 && h.Here().Same(l) {
		return
	}
	if len(h.places) > 0 {
		h.places = h.places[:h.at+1]
	}
	h.places = append(h.places, l)
	if extra := len(h.places) - mostPlaces; extra > 0 {
		h.places = append([]Location(nil), h.places[extra:]...)
	}
	h.at = len(h.places) - 1
}

// Replace changes the present place without adding one.
func (h *History) Replace(l Location) {
	if len(h.places) == 0 {
		h.Go(l)
		return
	}
	h.places[h.at] = l
}

// Scrolled remembers how far the present place is scrolled.
func (h *History) Scrolled(offset float32) {
	if len(h.places) > 0 {
		h.places[h.at].Offset = offset
	}
}

// Back stands one place earlier, if there is one.
func (h *History) Back() bool {
	if h.at == 0 {
		return false
	}
	h.at--
	return true
}

// Forward stands one place later, if there is one.
func (h *History) Forward() bool {
	if h.at+1 >= len(h.places) {
		return false
	}
	h.at++
	return true
}

// Forget removes every place for which gone holds, such as the steps of a
// visit that was deleted.
func (h *History) Forget(gone func(Location) bool) {
	var kept []Location
	at := 0
	for i, l := range h.places {
		if gone(l) {
			continue
		}
		kept = append(kept, l)
		if i <= h.at {
			at = len(kept) - 1
		}
	}
	h.places, h.at = kept, at
}
