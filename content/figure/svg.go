package figure

import (
	"math"
	"strconv"
	"strings"
)

// SVG writes a drawing as one self-contained picture without scripts, links
// or styles from elsewhere; its areas lead to one another. Its title and description speak for it where it
// cannot be seen.
func SVG(d Drawing, p Palette) string {
	var b strings.Builder
	w, h := number(d.Width), number(d.Height)
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" role="img" width="` + w + `" height="` + h + `" viewBox="0 0 ` + w + ` ` + h + `"`)
	if d.Title != "" {
		b.WriteString(` aria-label="` + escape(d.Title) + `"`)
	}
	b.WriteString(` font-family="'DejaVu Sans', Verdana, sans-serif" stroke-linejoin="round" stroke-linecap="round">`)
	b.WriteString("<title>" + escape(d.Title) + "</title><desc>" + escape(d.Description) + "</desc>\n")
	for _, item := range d.Items {
		writeItem(&b, item, p)
		b.WriteByte('\n')
	}
	for _, a := range d.Areas {
		writeArea(&b, a)
	}
	b.WriteString("</svg>")
	return b.String()
}

// writeArea writes a rectangle that is not seen.
func writeArea(b *strings.Builder, a Area) {
	rect := `<rect x="` + number(a.Left) + `" y="` + number(a.Top) + `" width="` + number(a.Right-a.Left) + `" height="` + number(a.Bottom-a.Top) + `" fill="none" pointer-events="all"`
	if a.Name != "" {
		rect += ` id="` + escape(a.Name) + `"`
	}
	rect += "><title>" + escape(a.Title) + "</title></rect>"
	if a.To != "" {
		rect = `<a href="#` + escape(a.To) + `">` + rect + "</a>"
	}
	b.WriteString(rect + "\n")
}

func writeItem(b *strings.Builder, item Item, p Palette) {
	switch it := item.(type) {
	case Polyline:
		b.WriteString(`<polyline points="` + points(it.Points) + `"` + paint(None, it.Ink, it.Width, p) + `/>`)
	case Polygon:
		b.WriteString(`<polygon points="` + points(it.Points) + `"` + paint(it.Fill, it.Stroke, it.Width, p) + `/>`)
	case Circle:
		b.WriteString(`<circle cx="` + number(it.Center.X) + `" cy="` + number(it.Center.Y) + `" r="` + number(it.Radius) + `"` +
			paint(it.Fill, it.Stroke, it.Width, p) + `/>`)
	case Text:
		b.WriteString(`<text x="` + number(it.At.X) + `" y="` + number(it.At.Y) + `" font-size="` + number(it.Size) + `"`)
		if it.Bold {
			b.WriteString(` font-weight="bold"`)
		}
		switch it.Anchor {
		case Middle:
			b.WriteString(` text-anchor="middle"`)
		case End:
			b.WriteString(` text-anchor="end"`)
		}
		b.WriteString(` fill="` + hex(p.Color(it.Ink)) + `">` + escape(it.Value) + `</text>`)
	}
}

func paint(fill, stroke Role, width float64, p Palette) string {
	s := ` fill="none"`
	if fill != None {
		s = ` fill="` + hex(p.Color(fill)) + `"`
	}
	if stroke != None {
		s += ` stroke="` + hex(p.Color(stroke)) + `" stroke-width="` + number(width) + `"`
	}
	return s
}

func points(ps []Point) string {
	var b strings.Builder
	for i, q := range ps {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(number(q.X) + "," + number(q.Y))
	}
	return b.String()
}

// number writes a length with at most two decimals.
func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}

// escape makes text fit for XML; characters XML cannot hold are replaced.
func escape(s string) string {
	var b strings.Builder
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r == '\'':
			b.WriteString("&#39;")
		case r == '\n' || r == '\t' || r == '\r':
			b.WriteByte(' ')
		case r < 0x20 || r == 0xFFFE || r == 0xFFFF:
			b.WriteRune('\uFFFD')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
