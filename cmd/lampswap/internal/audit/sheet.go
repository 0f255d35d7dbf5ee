package audit

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"lampswap/photometry/diag"
)

// Bounds of a sheet.
const (
	mostRows  = 5000
	mostCells = 200 // of a row
)

// A Row is one row of a sheet below its head; cells are by the names of columns, and a blank one is not there.
type Row struct {
	Number int // as a spreadsheet shows it, the head being 1
	cells  map[string]string
}

// A Sheet is an audit sheet as it was filled in.
type Sheet struct {
	Name    string
	Rows    []Row
	letters map[string]string // of the columns
	faults  diag.List
	order   map[*diag.Error][2]int // row and column
}

// fault notes what is wrong with a cell; a row of 0 is the whole sheet.
func (s *Sheet) fault(row int, column, wrong, want string) {
	at := s.Name
	if row > 0 {
		at += fmt.Sprintf(", row %d", row)
	}
	if letter := s.letters[column]; letter != "" {
		at += ", column " + letter
	}
	s.faults.Add(diag.Pos{File: at}, column, wrong, want)
	s.order[s.faults[len(s.faults)-1]] = [2]int{row, slices.Index(columnNames(), column)}
}

// err are the faults in the order of the rows, or nil.
func (s *Sheet) err() error {
	if len(s.faults) == 0 {
		return nil
	}
	slices.SortStableFunc(s.faults, func(a, b *diag.Error) int {
		p, q := s.order[a], s.order[b]
		return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1]))
	})
	return s.faults
}

// ReadSheet reads a sheet by the ending of its name: .xlsx, or else CSV, with commas or semicolons. What is wrong with it is noted in it.
func ReadSheet(name string, content []byte) *Sheet {
	s := &Sheet{Name: name, letters: map[string]string{}, order: map[*diag.Error][2]int{}}
	var lines [][]string
	var numbers []int
	var err error
	if strings.HasSuffix(strings.ToLower(name), ".xlsx") {
		lines, numbers, err = cellsOf(content)
	} else {
		lines, numbers, err = fieldsOf(content)
	}
	switch {
	case err != nil:
		s.fault(0, "", err.Error(), "a sheet as `lampswap new --audit-form walk.csv` or walk.xlsx writes it")
		return s
	case len(lines) == 0:
		s.fault(0, "", "the sheet is empty", "a head with the names of its columns, and a row a group of luminaires")
		return s
	case len(lines) > mostRows:
		s.fault(0, "", fmt.Sprintf("the sheet has %d rows", len(lines)), fmt.Sprintf("at most %d", mostRows))
		return s
	}
	head := s.head(numbers[0], lines[0])
	for i, line := range lines[1:] {
		s.row(numbers[i+1], line, head)
	}
	if len(s.Rows) == 0 && len(s.faults) == 0 {
		s.fault(0, "", "the sheet has a head and no row", "a row a group of luminaires")
	}
	return s
}

// head reads the names of the columns: of each cell that of its column, "" where there is none.
func (s *Sheet) head(row int, line []string) []string {
	known, names := columnNames(), make([]string, len(line))
	for i, cell := range line {
		name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(cell)), " ", "_")
		letter, err := excelize.ColumnNumberToName(i + 1)
		if err != nil || name == "" {
			continue
		}
		switch {
		case !slices.Contains(known, name):
			want := "one of " + strings.Join(known, ", ")
			if near := diag.Nearest(name, known); near != "" {
				want = near + ", perhaps"
			}
			s.fault(row, "", fmt.Sprintf("column %s is called %q", letter, diag.Visible(cell)), want)
		case s.letters[name] != "":
			s.fault(row, name, "is a column for the second time", "each once")
		default:
			s.letters[name], names[i] = letter, name
		}
	}
	for _, name := range []string{"space", "length", "width", "height", "existing", "count"} {
		if s.letters[name] == "" {
			s.fault(row, name, "is no column of the head", "a column of that name")
		}
	}
	return names
}

// row takes in a row; one with nothing in it is left out.
func (s *Sheet) row(number int, line, head []string) {
	r := Row{number, map[string]string{}}
	for i, cell := range line {
		cell = strings.TrimSpace(diag.Visible(cell))
		if cell == "" {
			continue
		}
		if i >= len(head) || head[i] == "" {
			letter, _ := excelize.ColumnNumberToName(i + 1)
			s.fault(number, "", fmt.Sprintf("column %s has %q and no name in the head", letter, cell), "a name there, or nothing below it")
			continue
		}
		r.cells[head[i]] = cell
	}
	if len(r.cells) > 0 {
		s.Rows = append(s.Rows, r)
	}
}

// fieldsOf are the lines of a CSV, with the number that a spreadsheet gives each: blank ones are left out and counted.
func fieldsOf(content []byte) (lines [][]string, numbers []int, err error) {
	if diag.UTF16(content) {
		return nil, nil, fmt.Errorf("%s, want %s", diag.WrongUTF16, diag.WantUTF8)
	}
	content = bytes.TrimPrefix(content, []byte("\xef\xbb\xbf"))
	r := csv.NewReader(bytes.NewReader(content))
	r.FieldsPerRecord = -1
	head, _, _ := bytes.Cut(content, []byte("\n"))
	semicolons := bytes.Count(head, []byte(";")) > bytes.Count(head, []byte(","))
	if semicolons {
		r.Comma = ';'
	}
	number, end := 0, 0
	for {
		fields, err := r.Read()
		if err != nil {
			if len(fields) == 0 && err.Error() == "EOF" {
				return lines, numbers, nil
			}
			return nil, nil, err
		}
		if len(fields) > mostCells {
			return nil, nil, fmt.Errorf("a row has %d cells", len(fields))
		}
		start, _ := r.FieldPos(0)
		number += start - end
		end = start
		for i, f := range fields {
			end += strings.Count(f, "\n")
			if semicolons && decimalComma.MatchString(strings.TrimSpace(f)) {
				fields[i] = strings.Replace(f, ",", ".", 1)
			}
		}
		lines, numbers = append(lines, fields), append(numbers, number)
		if len(lines) > mostRows+1 {
			return lines, numbers, nil
		}
	}
}

// decimalComma is a number as sheets with semicolons have it.
var decimalComma = regexp.MustCompile(`^-?[0-9]+,[0-9]+$`)

// cellsOf are the rows of the first sheet of a workbook, with their numbers.
func cellsOf(content []byte) (lines [][]string, numbers []int, err error) {
	const largest = 64 << 20 // unzipped
	f, err := excelize.OpenReader(bytes.NewReader(content), excelize.Options{RawCellValue: true, UnzipSizeLimit: largest, UnzipXMLSizeLimit: largest})
	if err != nil {
		return nil, nil, fmt.Errorf("the workbook cannot be read (%w)", err)
	}
	rows, err := f.Rows(f.GetSheetName(0))
	if err != nil {
		return nil, nil, fmt.Errorf("the workbook cannot be read (%w)", err)
	}
	for number := 1; rows.Next(); number++ {
		cells, err := rows.Columns()
		if err != nil {
			return nil, nil, fmt.Errorf("row %d of the workbook cannot be read (%w)", number, err)
		}
		if len(cells) > mostCells {
			return nil, nil, fmt.Errorf("row %d has %d cells", number, len(cells))
		}
		if number > 1 && strings.TrimSpace(strings.Join(cells, "")) == "" {
			continue
		}
		lines, numbers = append(lines, cells), append(numbers, number)
		if len(lines) > mostRows+1 {
			break
		}
	}
	return lines, numbers, f.Close()
}
