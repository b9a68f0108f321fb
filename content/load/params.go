package load

import (
	"faultwright/content/document"
	"faultwright/faulttree/rig"
)

// param reads one number of a rig: a text, or a mapping with the range that
// drawn rigs take it from.
func (p *part) param(v document.Value, name string, u rig.ParamUnit) (rig.Param, bool) {
	out := rig.Param{Name: name, Unit: u, Pos: v.Pos()}
	if !v.IsMap() {
		x, ok := readValue(v, name, u)
		out.Value, out.From, out.To = x, x, x
		return out, ok
	}
	m := v.Map("the number "+name, "value", "from", "to", "log", "source")
	var read [3]bool
	out.Value, read[0] = readValue(m.Need("value"), name, u)
	out.From, read[1] = readValue(m.Get("from"), name+" from", u)
	out.To, read[2] = readValue(m.Get("to"), name+" to", u)
	out.Log = flag(m, "log")
	p.referTo(refSource, m, "source")
	switch {
	case m.Has("from") != m.Has("to"):
		v.Report(RuleBadRange, "", "%s has only one end of a range; expected from and to", name)
		return out, false
	case !m.Has("from"):
		out.From, out.To = out.Value, out.Value
		if out.Log {
			v.Report(RuleBadRange, "", "%s is drawn by its logarithm, but has no range", name)
			return out, false
		}
		return out, read[0]
	case !read[0] || !read[1] || !read[2]:
		return out, false
	}
	return out, p.ranged(v, m, out)
}

// ranged checks the range of a number that has one.
func (p *part) ranged(v document.Value, m document.Map, x rig.Param) bool {
	if x.From >= x.To {
		m.Get("from").Report(RuleBadRange, "", "%s runs from %s to %s; expected from to lie below to", x.Name, m.Text("from"), m.Text("to"))
		return false
	}
	if x.Value < x.From || x.Value > x.To {
		m.Get("value").Report(RuleBadRange, "", "the ordinary %s, %s, lies outside of %s to %s", x.Name, m.Text("value"), m.Text("from"), m.Text("to"))
		return false
	}
	if x.Log && (x.From <= 0 || mayBeNegative(x.Unit)) {
		m.Get("from").Report(RuleBadRange, "", "%s is drawn by its logarithm; expected from to be more than 0", x.Name)
		return false
	}
	return true
}

// flag reads true or false, false if the key is absent.
func flag(m document.Map, key string) bool {
	return m.Has(key) && oneOf(m.Get(key), key, []string{"true", "false"}) == "true"
}
