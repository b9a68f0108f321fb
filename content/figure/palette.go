package figure

import (
	"fmt"
	"image/color"
	"math"
)

// Role is what an ink means. [None] draws nothing.
type Role uint8

const (
	None      Role = iota
	Panel          // the ground a drawing lies on, and the fill of what it shows
	Ink            // outlines and words
	Soft           // words and lines that matter less
	Line           // faint lines, metal pins
	Accent         // what the reader sets: conditions, the meter
	Hole           // the slots of a receptacle
	RedLead        // the red test lead
	BlackLead      // the black test lead
	LeadEdge       // the rim that sets a lead off from the ground
	OnLead         // letters on a lead's badge
	Hot1           // conductors by their code
	Hot2
	Neutral
	Ground
	WireEdge // the rim of a conductor
	DangerFill
	OnDanger
	WarningFill
	OnWarning
	CautionFill
	OnCaution
	NoticeFill
	OnNotice
	roles
)

// Palette gives each role its colour.
type Palette struct {
	Name   string
	colors [roles]color.NRGBA
}

// Color is the colour of a role; that of None is fully transparent.
func (p Palette) Color(r Role) color.NRGBA {
	if r >= roles {
		return color.NRGBA{}
	}
	return p.colors[r]
}

// hex writes a colour as #RRGGBB.
func hex(c color.NRGBA) string { return fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B) }

func rgb(v uint32) color.NRGBA {
	return color.NRGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}
}

// signals are the families of ANSI Z535: red, orange, yellow, blue.
func signals(c *[roles]color.NRGBA) {
	c[DangerFill], c[OnDanger] = rgb(0xC8102E), rgb(0xFFFFFF)
	c[WarningFill], c[OnWarning] = rgb(0xFF7900), rgb(0x000000)
	c[CautionFill], c[OnCaution] = rgb(0xFFC72C), rgb(0x000000)
	c[NoticeFill], c[OnNotice] = rgb(0x0057B8), rgb(0xFFFFFF)
}

// Light is the palette for a light page.
func Light() Palette {
	p := Palette{Name: "light"}
	p.colors = [roles]color.NRGBA{
		Panel: rgb(0xFFFFFF), Ink: rgb(0x1C2126), Soft: rgb(0x5B6570), Line: rgb(0xD8D5CC),
		Accent: rgb(0x0A5C66), Hole: rgb(0x1C2126),
		RedLead: rgb(0xC8102E), BlackLead: rgb(0x111417), LeadEdge: rgb(0xFFFFFF), OnLead: rgb(0xFFFFFF),
		Hot1: rgb(0x111417), Hot2: rgb(0xC8102E), Neutral: rgb(0xFFFFFF), Ground: rgb(0x1E7B3A), WireEdge: rgb(0x5B6570),
	}
	signals(&p.colors)
	return p
}

// Dark is the palette for a dark page.
func Dark() Palette {
	p := Palette{Name: "dark"}
	p.colors = [roles]color.NRGBA{
		Panel: rgb(0x1D2327), Ink: rgb(0xECEFF1), Soft: rgb(0x9AA6AF), Line: rgb(0x4A545C),
		Accent: rgb(0x5CC4CE), Hole: rgb(0xECEFF1),
		RedLead: rgb(0xDE2440), BlackLead: rgb(0x000000), LeadEdge: rgb(0xECEFF1), OnLead: rgb(0xFFFFFF),
		Hot1: rgb(0x000000), Hot2: rgb(0xDE2440), Neutral: rgb(0xFFFFFF), Ground: rgb(0x3DA35D), WireEdge: rgb(0x9AA6AF),
	}
	signals(&p.colors)
	return p
}

// HighContrast is black, white and the four signal colours.
func HighContrast() Palette {
	p := Palette{Name: "high contrast"}
	white, black, red, yellow := rgb(0xFFFFFF), rgb(0x000000), rgb(0xC8102E), rgb(0xFFC72C)
	p.colors = [roles]color.NRGBA{
		Panel: black, Ink: white, Soft: white, Line: white,
		Accent: yellow, Hole: white,
		RedLead: red, BlackLead: black, LeadEdge: white, OnLead: white,
		Hot1: black, Hot2: red, Neutral: white, Ground: yellow, WireEdge: white,
	}
	signals(&p.colors)
	return p
}

// Grey is a palette for paper: black, white and what lies between, for printers without
// colours. Words and shapes tell what the colours of others tell.
func Grey() Palette {
	p := Palette{Name: "grey"}
	white, black, dark, middle := rgb(0xFFFFFF), rgb(0x000000), rgb(0x444444), rgb(0x767676)
	p.colors = [roles]color.NRGBA{
		Panel: white, Ink: black, Soft: dark, Line: rgb(0xBBBBBB), Accent: black, Hole: black,
		RedLead: middle, BlackLead: black, LeadEdge: white, OnLead: white,
		Hot1: black, Hot2: dark, Neutral: white, Ground: middle, WireEdge: black,
		DangerFill: black, OnDanger: white, WarningFill: white, OnWarning: black,
		CautionFill: white, OnCaution: black, NoticeFill: white, OnNotice: black,
	}
	return p
}

// Contrast is the ratio of the lighter to the darker of two colours, from 1
// to 21, by relative luminance as WCAG 2 defines it.
func Contrast(a, b color.NRGBA) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func luminance(c color.NRGBA) float64 {
	channel := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(c.R) + 0.7152*channel(c.G) + 0.0722*channel(c.B)
}
