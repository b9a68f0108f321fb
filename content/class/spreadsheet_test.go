package class

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"faultwright/faulttree/must"
)

// imported is lines as a spreadsheet takes them up from a file: what begins as a formula
// becomes one, what is a number becomes one, all else stays text. The workbook has been
// written and opened again.
func imported(t *testing.T, lines [][]string) (f *excelize.File, sheet string) {
	t.Helper()
	f = excelize.NewFile()
	sheet = f.GetSheetName(0)
	for y, line := range lines {
		for x, text := range line {
			cell := must.Have(excelize.CoordinatesToCellName(x+1, y+1))(t)
			plain := strings.TrimSpace(text)
			first, _ := strings.CutPrefix(plain, "＝")
			_, number := strconv.ParseFloat(plain, 64)
			switch {
			case number == nil:
				must.Do(t, f.SetCellFloat(sheet, cell, must.Have(strconv.ParseFloat(plain, 64))(t), -1, 64))
			case first != plain || strings.IndexAny(plain, "=+-@") == 0:
				must.Do(t, f.SetCellFormula(sheet, cell, strings.TrimLeft(first, "=+@")))
			default:
				must.Do(t, f.SetCellStr(sheet, cell, text))
			}
		}
	}
	var out bytes.Buffer
	must.Do(t, f.Write(&out))
	f = must.Have(excelize.OpenReader(&out))(t)
	t.Cleanup(func() { f.Close() })
	return f, sheet
}

// formulas counts the cells of a sheet that are formulas, and those whose formula comes to
// something.
func formulas(t *testing.T, lines [][]string) (all, run int) {
	t.Helper()
	f, sheet := imported(t, lines)
	for y, line := range lines {
		for x, text := range line {
			cell := must.Have(excelize.CoordinatesToCellName(x+1, y+1))(t)
			if formula := must.Have(f.GetCellFormula(sheet, cell))(t); formula != "" {
				all++
				if value, err := f.CalcCellValue(sheet, cell); err == nil && value != "" {
					run++
				}
				continue
			}
			if got := must.Have(f.GetCellValue(sheet, cell, excelize.Options{RawCellValue: true}))(t); got != text {
				t.Errorf("%s has %q; written was %q", cell, got, text)
			}
		}
	}
	return all, run
}

// The marks of a class as a spreadsheet library has them: every cell the text or the number
// that was written, and no formula, whatever names learners give themselves. The same
// names as they were typed are formulas there, and come to something.
func TestASpreadsheetHasTheMarksAsText(t *testing.T) {
	names := []string{"=1+1", "+2*3", "-2+3", "@SUM(1,2)", "＝2+2", " =4", `=HYPERLINK("x")`}
	var typed [][]string
	for _, name := range names {
		typed = append(typed, []string{name})
	}
	if all, run := formulas(t, typed); all != len(names) || run < len(names)-1 {
		t.Fatalf("as they were typed, %d names of %d are formulas, and %d come to something", all, len(names), run)
	}
	a := assigned(t, false, "barefoot-on-the-steel-step")
	files := map[string][]byte{}
	for i, name := range append(names, `Anne "the meter", Wren`, "Zoë O'Neil-Reed") {
		files[fmt.Sprintf("=%d", i)] = written(t, handedIn(t, a, name, 7e9+1e6*1000))
	}
	c := collected(t, folderOf(t, a, files), Options{})
	var out bytes.Buffer
	must.Do(t, c.CSV(&out, false))
	lines := must.Have(rfc4180(out.String()))(t)
	if all, _ := formulas(t, lines); all > 0 || len(lines) != 1+len(files) {
		t.Errorf("of %d lines %d cells are formulas", len(lines), all)
	}
}
