package class

import (
	"archive/zip"
	"bytes"
	"fmt"
	"hash/crc32"
	"io/fs"
	"strings"
	"testing"

	"faultwright/faulttree/archive"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
)

// rawArchive is a ZIP with headers of any kind.
func rawArchive(t testing.TB, headers []zip.FileHeader, texts ...string) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for i, h := range headers {
		f := must.Have(w.CreateHeader(&h))(t)
		must.Have(f.Write([]byte(texts[i])))(t)
	}
	must.Do(t, w.Close())
	return out.Bytes()
}

func named(name string) zip.FileHeader {
	return zip.FileHeader{Name: name, Method: zip.Deflate}
}

// lying is a ZIP whose header says another size than its content has.
func lying(t *testing.T) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	text := []byte(strings.Repeat("a", 5000))
	f := must.Have(w.CreateRaw(&zip.FileHeader{Name: attemptEntry, Method: zip.Store, CRC32: crc32.ChecksumIEEE(text), CompressedSize64: 5000, UncompressedSize64: 10}))(t)
	must.Have(f.Write(text))(t)
	must.Do(t, w.Close())
	return out.Bytes()
}

// Whatever lies in the folder is told in one sentence, and the others load.
func TestHostileFilesAreToldAndTheOthersLoad(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	wren := written(t, handedIn(t, a, "Wren", 7e9))
	link := named("attempt.json")
	link.SetMode(fs.ModeSymlink | 0o777)
	later := changed(t, wren, attemptEntry, `"version": "1.0"`, `"version": "2.0"`)
	many := make([]zip.FileHeader, bounds.Entries+1)
	manyTexts := make([]string, bounds.Entries+1)
	for i := range many {
		many[i] = named(strings.Repeat("x", i+1))
	}
	files := map[string]struct {
		raw  []byte
		want string
	}{
		"empty":     {nil, ErrNoArchive.Error()},
		"picture":   {[]byte("\x89PNG\r\n\x1a\n"), ErrNoArchive.Error()},
		"half":      {wren[:len(wren)/2], "the ZIP file is cut off or damaged: zip: not a valid zip file"},
		"huge":      {bytes.Repeat([]byte("PK"), MostFile/2+1), "it is larger than 8 MiB; it is not read"},
		"bomb":      {archiveOf(t, archive.Entry{Name: attemptEntry, Text: make([]byte, 20<<20)}), "the ZIP file unpacks to more than 24 MiB, or to more than 150 times its size; it is not read"},
		"bombs":     {archiveOf(t, archive.Entry{Name: "a", Text: make([]byte, 25<<20)}), "the ZIP file unpacks to more than 24 MiB, or to more than 150 times its size; it is not read"},
		"up":        {rawArchive(t, []zip.FileHeader{named("../attempt.json")}, "{}"), `the ZIP file has an entry that leads out of it, "../attempt.json"; it is not read`},
		"within-up": {rawArchive(t, []zip.FileHeader{named("a/../../attempt.json")}, "{}"), `the ZIP file has an entry that leads out of it, "a/../../attempt.json"; it is not read`},
		"absolute":  {rawArchive(t, []zip.FileHeader{named("/etc/attempt.json")}, "{}"), `the ZIP file has an entry that leads out of it, "/etc/attempt.json"; it is not read`},
		"drive":     {rawArchive(t, []zip.FileHeader{named(`C:\attempt.json`)}, "{}"), `the ZIP file has an entry that leads out of it, "C:\\attempt.json"; it is not read`},
		"turned":    {rawArchive(t, []zip.FileHeader{named("a\u202egpj.exe")}, "{}"), `the ZIP file has an entry that leads out of it, "a\u202egpj.exe"; it is not read`},
		"link":      {rawArchive(t, []zip.FileHeader{link}, "/etc/passwd"), `the ZIP file has an entry that is no plain file, "attempt.json"; it is not read`},
		"twice":     {rawArchive(t, []zip.FileHeader{named("attempt.json"), named("Attempt.json")}, "{}", "{}"), `the ZIP file has the entry "Attempt.json" twice; it is not read`},
		"many":      {rawArchive(t, many, manyTexts...), "the ZIP file has 201 entries; at most 200 are read"},
		"lying":     {lying(t), `the entry "attempt.json" of the ZIP file is damaged: zip: not a valid zip file`},
		"foreign":   {archiveOf(t, archive.Entry{Name: "word/document.xml", Text: []byte("<a/>")}), "this is no assignment and no attempt: the ZIP file holds something else"},
		"no-json":   {archiveOf(t, archive.Entry{Name: attemptEntry, Text: []byte("\x00\x01")}), "the attempt is damaged: invalid character '\\x00' looking for beginning of value"},
		"deep":      {archiveOf(t, archive.Entry{Name: attemptEntry, Text: []byte(strings.Repeat("[", 100_000))}), "the attempt is nested more than 32 levels deep; it is not read"},
		"format":    {archiveOf(t, archive.Entry{Name: attemptEntry, Text: []byte(`{"format":"other","version":"1.0"}`)}), `the attempt says that its format is "other"; expected "faultwright-attempt"`},
		"later":     {later, "the attempt is of version 2.0, made by a later Faultwright; this one reads up to 1"},
		"version":   {changed(t, wren, attemptEntry, `"version": "1.0"`, `"version": "new"`), `the attempt is damaged: "new" is no version; expected two numbers, such as "1.0"`},
		"nameless":  {changed(t, wren, attemptEntry, `"Wren"`, `" \u202e "`), "the attempt has no name of a learner"},
		"kind":      {changed(t, wren, attemptEntry, `"prove"`, `"prowl"`), "the attempt is damaged: "},
	}
	folder := folderOf(t, a, map[string][]byte{"wren.zip": wren, "minor.zip": changed(t, changed(t, written(t, handedIn(t, a, "Lark", 3e9)), attemptEntry, `"version": "1.0"`, `"version": "1.7"`), attemptEntry, `"learner"`, `"mood": {"of": "the day"}, "learner"`)})
	for name, f := range files {
		folder[name] = folderOf(t, a, map[string][]byte{name: f.raw})[name]
	}
	c := collected(t, folder, Options{})
	if len(c.Learners) != 2 || c.Learners[0].Tries[0].Edited != "" || c.Learners[1].Tries[0].Edited != "" {
		t.Errorf("%d learners", len(c.Learners))
	}
	if len(c.Told) != len(files) {
		t.Errorf("%d files are told; expected %d", len(c.Told), len(files))
	}
	for _, told := range c.Told {
		if want := files[told.File].want; told.Why != want && !(strings.HasSuffix(want, ": ") && strings.HasPrefix(told.Why, want)) || strings.Contains(told.Why, "\n") {
			t.Errorf("%s: %q; expected %q", told.File, told.Why, want)
		}
	}
}

// A folder of huge attempts is read up to a bound, and the rest is told.
func TestAFolderIsBounded(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	var acts []practice.Act
	for range 9_000 {
		acts = append(acts, practice.Act{Kind: practice.ChangeFuse})
	}
	files := map[string][]byte{}
	for i := range 35 {
		name := fmt.Sprintf("Learner %02d", i)
		f := AttemptFile{Learner: name, Assignment: a.ID, Saved: noon, Attempts: []practice.Attempt{{Case: a.Tasks[0].Scenario, Acts: acts}}}
		files[name] = written(t, f)
	}
	c := collected(t, folderOf(t, a, files), Options{})
	if len(c.Learners) != 33 || len(c.Told) != 2 || c.Told[0] != (Told{"Learner 33", "the attempts before it and this one have more than 300000 acts or 64 MiB; it is not verified"}) {
		t.Errorf("%d learners, %v", len(c.Learners), c.Told)
	}
}

// Assignments are read as carefully.
func TestHostileAssignments(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	raw := written(t, a)
	for _, x := range []struct {
		name string
		raw  []byte
		want string
	}{
		{"later", changed(t, raw, assignmentEntry, `"1.0"`, `"3.1"`), "the assignment is of version 3.1, made by a later Faultwright; this one reads up to 1"},
		{"entry", changed(t, raw, assignmentEntry, `"scenarios/barefoot-on-the-steel-step.md"`, `"../../secret"`), `the assignment carries no scenario barefoot-on-the-steel-step: the ZIP file has no entry "../../secret"`},
		{"id", changed(t, raw, assignmentEntry, `"scenario": "barefoot`, `"scenario": "../barefoot`), `scenario 1 of the assignment has no id that could be one: "../barefoot-on-the-steel-step"`},
		{"due", changed(t, raw, assignmentEntry, `"2026-12-04"`, `"Friday"`), `"Friday" is no date; expected one such as 2026-12-04`},
		{"role", changed(t, raw, assignmentEntry, `"qualified"`, `"qualifyed"`), `the assignment is damaged: "qualifyed" is not a role; did you mean qualified?`},
		{"supervised owner", changed(t, raw, assignmentEntry, `"role": "qualified"`, `"role": "owner", "supervised": true`), `the assignment is for role "owner" and supervised; expected "qualified", which supervised makes a trainee's`},
		{"attempt", written(t, handedIn(t, a, "Wren", 7e9)), "this is a file to hand in, and no assignment; open the one that was handed out"},
	} {
		if _, err := ReadAssignment(bytes.NewReader(x.raw)); err == nil || err.Error() != x.want {
			t.Errorf("%s: %v; expected %q", x.name, err, x.want)
		}
	}
}

// FuzzAttempts reads attempt files of any bytes, and of any JSON in a sound archive.
func FuzzAttempts(f *testing.F) {
	a := assigned(f, true, "barefoot-on-the-steel-step")
	raw := written(f, handedIn(f, a, "Wren", 7e9))
	files := must.Have(unpack(raw))(f)
	f.Add(raw)
	f.Add(files[attemptEntry])
	f.Add([]byte(`{"format":"faultwright-attempt","version":"1.0","learner":"W","assignment":"a","attempts":[{"case":"x","acts":[{"kind":"read","at":-1}]}]}`))
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18)))
	f.Fuzz(func(t *testing.T, raw []byte) {
		_, _ = ReadAttempts(bytes.NewReader(raw))
		if len(raw) > 100_000 {
			return
		}
		c := collected(t, folderOf(t, a, map[string][]byte{"x": archiveOf(t, archive.Entry{Name: attemptEntry, Text: raw})}), Options{})
		if len(c.Told)+len(c.Learners) != 1 {
			t.Errorf("%d are told, %d learners", len(c.Told), len(c.Learners))
		}
	})
}

// FuzzAssignment reads assignments of any bytes, and of any JSON in a sound archive.
func FuzzAssignment(f *testing.F) {
	a := assigned(f, true, "barefoot-on-the-steel-step")
	raw := written(f, a)
	files := must.Have(unpack(raw))(f)
	f.Add(raw)
	f.Add(files[assignmentEntry])
	f.Add([]byte(`{"format":"faultwright-assignment","version":"1.0","id":"a","title":"T","tasks":[{"scenario":"s","file":"assignment.json"}]}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		_, _ = ReadAssignment(bytes.NewReader(raw))
		got, err := ReadAssignment(bytes.NewReader(archiveOf(t, archive.Entry{Name: assignmentEntry, Text: raw}, archive.Entry{Name: a.Tasks[0].File, Text: []byte(a.Tasks[0].Text)})))
		if err != nil {
			return
		}
		if _, err := got.Bytes(); err != nil {
			t.Errorf("what was read cannot be written: %v", err)
		}
	})
}
