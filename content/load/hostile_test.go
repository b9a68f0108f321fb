package load

import (
	"context"
	"fmt"
	"io/fs"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"faultwright/content/document"
	"faultwright/faulttree/source"
)

// hostileCase is a folder that does not want to be read. Want is the one
// diagnostic of its rule; the rest of the folder is still loaded when rest is
// set.
type hostileCase struct {
	name, rule, want string
	rest             bool
	files            func(base fstest.MapFS) fs.FS
}

func hostile() []hostileCase {
	add := func(name string, text []byte) func(fstest.MapFS) fs.FS {
		return func(base fstest.MapFS) fs.FS {
			base[name] = &fstest.MapFile{Data: text}
			return base
		}
	}
	return []hostileCase{
		{
			name: "huge file", rule: RuleTooLarge, rest: true,
			want:  "cards/huge.md: error: the file is larger than 1024 KiB; it is not read",
			files: add("cards/huge.md", make([]byte, 64<<20)),
		}, {
			name: "very much in all", rule: RuleTooLarge,
			want: "cards/x12.md: error: the content folder holds more than 12 MiB; nothing of it is loaded",
			files: func(base fstest.MapFS) fs.FS {
				text := []byte(strings.Repeat(strings.Repeat("a ", 50)+"\n\n", mostFileBytes/102))
				for i := range 80 {
					base["cards/x"+string(rune('0'+i/10))+string(rune('0'+i%10))+".md"] = &fstest.MapFile{Data: text}
				}
				return base
			},
		}, {
			name: "very much work in all", rule: RuleWork,
			want: "-: error: the texts of the content folder take more than 100 times the work of the shipped handbook to read; nothing of it is loaded",
			files: func(base fstest.MapFS) fs.FS {
				text := []byte(strings.Repeat(strings.Repeat("*a* ", 200)+"\n\n", 50))
				for i := range 60 {
					base["cards/x"+string(rune('0'+i))+".md"] = &fstest.MapFile{Data: text}
				}
				return base
			},
		}, {
			name: "a hundred thousand files", rule: RuleTooMany,
			want:  "cards: error: the content folder holds more than 5000 files; nothing of it is loaded",
			files: func(base fstest.MapFS) fs.FS { return crowd{MapFS: base, files: 100_000} },
		}, {
			name: "nothing but line ends", rule: RuleTooLarge, rest: true,
			want:  "cards/lines.md: error: the file has more than 50000 lines; it is not read",
			files: add("cards/lines.md", []byte(strings.Repeat("\n", mostFileBytes))),
		}, {
			name: "not UTF-8", rule: RuleEncoding, rest: true,
			want:  "cards/latin.md:2:11: error: this byte is not UTF-8; save the file as UTF-8",
			files: add("cards/latin.md", []byte("---\ntitle: 230\xa0V\n---\n")),
		}, {
			name: "a folder for a file", rule: RuleUnreadable, rest: true,
			want:  "cards/folder.md: error: this is not a plain file",
			files: add("cards/folder.md/inner.md", nil),
		}, {
			name: "a file for a folder", rule: RuleUnreadable, rest: true,
			want: "cards: error: this is not a folder",
			files: func(base fstest.MapFS) fs.FS {
				for name := range base {
					if strings.HasPrefix(name, "cards/") {
						delete(base, name)
					}
				}
				base["cards"] = &fstest.MapFile{Data: []byte("text")}
				return base
			},
		}, {
			name: "very many switches in the list of evidence", rule: RuleListSize, rest: true,
			want: "evidence.yaml:52:3: error: off has 40000 entries; from this one on none is read, as there may be 50",
			files: func(base fstest.MapFS) fs.FS {
				base["evidence.yaml"] = &fstest.MapFile{Data: []byte("interventions: [{id: a, title: A, before: None., exposure: dead, off: [\n" + numbered("  s%d,\n", 40_000) + "  ]}]\n")}
				return base
			},
		}, {
			name: "very many errors", rule: RuleTooManyErrors, rest: true,
			want:  "synonyms.yaml:201:3: error: from here on at least 800 more errors of this file are not shown",
			files: add("synonyms.yaml", []byte(strings.Repeat("- word\n", 2000))),
		}, {
			name: "alias bomb", rule: "yaml-feature", rest: true,
			want:  "cards/bomb.md:4:10: error: an anchor (&a) stands here; write the value out instead",
			files: add("cards/bomb.md", []byte("---\ncard: bomb\ntitle: Bomb\naliases: &a [x, x, x]\nsymptoms: &b [*a, *a, *a, *a]\nrelated: [*b, *b, *b, *b]\n---\nText.\n")),
		},
	}
}

// numbered is a line many times, with its number in it.
func numbered(line string, times int) string {
	var out strings.Builder
	for i := range times {
		fmt.Fprintf(&out, line, i)
	}
	return out.String()
}

// crowd is a folder in which cards holds very many files. It counts how many
// were looked at.
type crowd struct {
	fstest.MapFS
	files int
}

func (c crowd) Open(name string) (fs.File, error) {
	f, err := c.MapFS.Open(name)
	if name != "cards" || err != nil {
		return f, err
	}
	return &crowdDir{File: f, left: c.files}, nil
}

type crowdDir struct {
	fs.File
	left int
}

func (d *crowdDir) ReadDir(n int) ([]fs.DirEntry, error) {
	if n <= 0 {
		n = d.left
	}
	info, err := d.Stat()
	if err != nil {
		return nil, err
	}
	entries := make([]fs.DirEntry, min(n, d.left))
	for i := range entries {
		entries[i] = fs.FileInfoToDirEntry(info)
	}
	d.left -= len(entries)
	return entries, nil
}

// A hostile folder gives a clear error in bounded time and memory, and what is
// sound in it is still loaded where the folder as a whole is within bounds.
func TestHostileFolders(t *testing.T) {
	for _, test := range hostile() {
		t.Run(test.name, func(t *testing.T) {
			fsys := test.files(folder(archive(t, "testdata/base.txtar")))
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			begin := time.Now()
			l := FS(context.Background(), fsys)
			took := time.Since(begin)
			runtime.ReadMemStats(&after)
			if took > 30*time.Second {
				t.Errorf("loading took %v", took)
			}
			if used := after.TotalAlloc - before.TotalAlloc; used > 1<<30 {
				t.Errorf("loading allocated %d MiB in all", used>>20)
			}
			found := 0
			for _, d := range l.Diagnostics {
				if d.Rule == test.rule && d.String() == test.want {
					found++
				}
			}
			if found != 1 {
				t.Errorf("the folder gives\n%v\nexpected once %q of rule %s", l.Diagnostics[:min(5, len(l.Diagnostics))], test.want, test.rule)
			}
			if loaded := l.Forest.Trees["tingle"] != nil; loaded != test.rest {
				t.Errorf("the tree beside it is loaded: %v, expected %v", loaded, test.rest)
			}
		})
	}
}

// A load that is canceled says so.
func TestCanceledLoadSaysSo(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	l := FS(ctx, folder(archive(t, "testdata/base.txtar")))
	if len(l.Diagnostics) != 1 || l.Diagnostics[0].Rule != RuleCanceled || len(l.Forest.Trees) != 0 {
		t.Errorf("a canceled load gives %v and %d trees", l.Diagnostics, len(l.Forest.Trees))
	}
}

// Whatever way a mark that turns the direction of text is written, none reaches
// what is read, and what stands around it does.
func TestHiddenCharactersAreTakenOut(t *testing.T) {
	l, _, _ := loadCase(t, "testdata/mistakes/hidden.txtar")
	card := l.Cards["why-live"]
	text := card.Title + " " + document.Plain(card.Body)
	if strings.ContainsFunc(text, source.Hidden) || !strings.Contains(text, "Why the body can be live") || !strings.Contains(text, "Mark  and .") || !strings.Contains(text, "see above") {
		t.Errorf("the card reads %q", text)
	}
	readings, diags := Readings(strings.NewReader(`body-earth: "not possible: fence\u202e in the way"`), "r.yaml", readingsForest())
	if len(diags) > 0 || readings.Readings["body-earth"][0].Reason != "fence in the way" {
		t.Errorf("%v, %v", readings, diags)
	}
}
