package load

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
	"faultwright/faulttree/suspect"
)

const (
	// mostReadingBytes is the largest file of readings.
	mostReadingBytes = 256 << 10
	// mostReadings is how often one quantity may be given.
	mostReadings = 100
	// mostReadingErrors is after how many errors the rest is not looked at.
	mostReadingErrors = 20
	// notPossibleKey stands for a reading that could not be taken.
	notPossibleKey = "not-possible"
	// factsKey stands before the facts of whoever took the readings.
	factsKey = "facts"
)

// The rules of a file of readings, which is no document of the handbook.
const (
	ruleReading = "reading"
	ruleChoice  = "choice"
)

// Readings reads a mapping in YAML or JSON of readings known in advance:
// a quantity to what the meter showed, to a list of that for rechecks, or to
// "not possible: reason" or {not-possible: reason}; and tree#step of a
// question to its choice; and facts to a mapping of facts to their choices. Act steps count as done. Name is what the file is
// called in the list of what is wrong; nothing is supplied if there is any.
func Readings(r io.Reader, name string, f *faulttree.Forest) (faulttree.Supplied, source.List) {
	in := readings{forest: f}
	told, diags := in.file(r, name)
	if diags.HasErrors() {
		return faulttree.Supplied{}, diags
	}
	return told.supplied(), diags
}

// supplied is what a walk takes of it.
func (told AccountFile) supplied() faulttree.Supplied {
	out := faulttree.Supplied{Readings: map[string][]faulttree.Reading{}, Choices: told.Choices, Facts: told.Facts, ActsDone: true}
	for _, e := range told.Evidence {
		out.Readings[e.Quantity.ID] = append(out.Readings[e.Quantity.ID], e.Reading)
	}
	return out
}

// withoutTabs makes blanks of the tabs of JSON, with which it may be indented
// and which YAML does not know. Its strings cannot hold any.
func withoutTabs(text []byte) []byte {
	if bytes.ContainsRune(text, '\t') && json.Valid(text) {
		text = bytes.ReplaceAll(text, []byte("\t"), []byte(" "))
	}
	return text
}

// readings is the reading of one file.
type readings struct {
	forest *faulttree.Forest
	marked bool // it may say what [Account] takes beyond [Readings]
	diags  source.List
	out    AccountFile
}

// file reads a whole file; nothing is told if anything in it is wrong.
func (in *readings) file(r io.Reader, name string) (AccountFile, source.List) {
	in.out.Choices = map[faulttree.Ref]string{}
	text, err := io.ReadAll(io.LimitReader(r, mostReadingBytes+1))
	switch {
	case err != nil:
		in.diags.Add(source.Pos{File: name}, RuleUnreadable, "the readings cannot be read: %v", err)
	case len(text) > mostReadingBytes:
		in.diags.Add(source.Pos{File: name}, RuleTooLarge, "the file of readings is larger than %d bytes", mostReadingBytes)
	default:
		if file, ok := fileOf(name, withoutTabs(text), &in.diags); ok {
			in.read(file)
		}
	}
	if in.diags.HasErrors() {
		in.diags.Sort()
		return AccountFile{}, in.diags
	}
	return in.out, in.diags
}

func (in *readings) read(file *source.File) {
	in.fields(document.ParseYAML(file, &in.diags).Fields("the file of readings"))
}

func (in *readings) fields(fields []document.Field) {
	for i, field := range fields {
		if len(in.diags) >= mostReadingErrors {
			in.diags.Add(field.KeyPos, RuleTooManyErrors, "the %d keys from here on are not looked at until these errors are mended", len(fields)-i)
			break
		}
		switch q, known := in.forest.Quantities[field.Key]; {
		case field.Key == factsKey:
			in.out.Facts = (&measurables{facts: in.forest.Facts}).given(field.Value)
		case known:
			in.quantity(q, field.Value)
		case strings.Contains(field.Key, "#"):
			in.choice(field)
		case slices.Contains(toldKeys, field.Key):
			in.told(field)
		default:
			in.diags.AddHint(field.KeyPos, RuleUnknownQuantity, source.DidYouMean(field.Key, in.keys()),
				"%s is not a quantity of this handbook, nor the tree#step of a question", field.Key)
		}
	}
}

// keys is everything a file of readings may speak of.
func (in *readings) keys() []string {
	out := append(in.forest.Quantities.IDs(), factsKey)
	if in.marked {
		out = append(out, toldKeys...)
	}
	for _, t := range in.forest.Trees {
		for _, s := range t.Steps {
			if s.Kind == faulttree.KindObserve {
				out = append(out, s.Ref().String())
			}
		}
	}
	return out
}

func (in *readings) quantity(q faulttree.Quantity, v document.Value) {
	given := []document.Value{v}
	if v.IsList() {
		given = v.Items(q.ID)
		switch {
		case len(given) == 0:
			v.Report(ruleReading, "", "%s has an empty list; expected what the meter showed", q.ID)
		case len(given) > mostReadings:
			v.Report(ruleReading, "", "%s has %d readings; at most %d are read", q.ID, len(given), mostReadings)
			return
		}
	}
	for _, value := range given {
		e := suspect.Evidence{Quantity: q}
		if in.reading(q, value, &e) {
			in.add(value, e)
		}
	}
}

// reading reads what the meter showed, and in an account the marks beside it,
// into e. It reports whether there is one.
func (in *readings) reading(q faulttree.Quantity, v document.Value, e *suspect.Evidence) bool {
	if v.IsMap() {
		var m document.Map
		if in.marked {
			m = in.marks(v, e, readingKey, notPossibleKey)
		} else {
			m = v.Map("a reading that is no text", notPossibleKey)
		}
		if m.Has(readingKey) {
			if m.Has(notPossibleKey) {
				m.Get(notPossibleKey).Report(ruleReading, "", "%s has a reading and was not possible; expected one of them", q.ID)
			}
			return in.shown(q, m.Get(readingKey), e)
		}
		reason := m.Need(notPossibleKey)
		e.Reading = faulttree.NotTaken(reason.Text(notPossibleKey))
		return reason.IsText()
	}
	return in.shown(q, v, e)
}

// shown reads what the meter showed into e, and reports whether there is that.
func (in *readings) shown(q faulttree.Quantity, v document.Value, e *suspect.Evidence) bool {
	if !v.IsText() {
		v.Report(ruleReading, "", "%s has no reading; expected what the meter showed, such as 118.4, or not possible: and the reason", q.ID)
		return false
	}
	var err error
	if e.Reading, err = faulttree.ParseReading(v.Text(q.ID), q); err != nil {
		v.Report(ruleReading, "", "%s: %v", q.ID, err)
	}
	return err == nil
}

func (in *readings) choice(field document.Field) {
	ref := faulttree.ParseRef(field.Key, "")
	s := in.forest.Step(ref)
	if s == nil || s.Kind != faulttree.KindObserve {
		what := "there is no step of this name"
		if s != nil {
			what = fmt.Sprintf("that step is no question but of kind %s", s.Kind)
		}
		in.diags.AddHint(field.KeyPos, RuleUnknownStep, source.DidYouMean(field.Key, in.keys()), "%s: %s", field.Key, what)
		return
	}
	ids := faulttree.ChoiceIDs(s.Choices)
	answer := field.Value.Text("the choice at " + field.Key)
	switch {
	case slices.Contains(ids, answer):
		in.out.Choices[s.Ref()] = answer
	case field.Value.IsText():
		field.Value.Report(ruleChoice, source.DidYouMean(answer, ids), "%s has no choice %q; expected %s", field.Key, answer, either(ids))
	}
}
