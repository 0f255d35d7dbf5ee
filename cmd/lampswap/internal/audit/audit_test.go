package audit_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"lampswap/cmd/lampswap/internal/audit"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
)

const head = "space,type,length,width,height,reflectances,existing,proposed,count,failed,mounting_height,hours,control,control_saving,level,note\n"

// walk is a sheet of two rooms, one of two groups, with blanks. Invented.
const walk = head + `hall,warehouse-bulky,120,60,18,50/30/20,2 F96T12 strip-4in magnetic,4 F32T8/800 strip-4in is-normal,50,5,16,4000,occupancy,20%,warehouse-active-bulky,"lift, two ""bays"" blocked"

shop,,40,30,14,,2 F96T12 strip-4in magnetic,,12,,,,,,35,
Shop,,,,,,1 F96T12 strip-4in magnetic,none,3,,12,,,,,
`

var (
	none  = job.Files(nil)
	shelf = job.NewShelf(16 << 20)
)

func TestBuildingOfASheet(t *testing.T) {
	made, err := audit.ReadSheet("walk.csv", []byte(walk)).Building("walk", false, nil, none, shelf)
	require.NoError(t, err)
	b := made.Building
	assert.Equal(t, []string{"hall", "shop"}, b.Names())
	hall, shop := b.Spaces[0].Job, b.Spaces[1].Job
	assert.Equal(t, "warehouse-bulky", hall.Space.ID)
	assert.Equal(t, []int{50, 5}, []int{hall.Existing.Number(), len(hall.Existing.Use.Failed)})
	assert.Equal(t, []any{"occupancy", 0.2, `lift, two "bays" blocked`}, []any{hall.Proposed.Use.Control, hall.Proposed.Use.ControlSaving, hall.Proposed.Use.Note})
	assert.Equal(t, "warehouse-active-bulky", hall.Criteria[0].Level)
	assert.Equal(t, []int{15, 12}, []int{shop.Existing.Number(), shop.Proposed.Number()}, "two groups, one taken down")
	assert.Equal(t, shop.Room.Height, shop.Proposed.Layout.MountingHeight, "at the ceiling")
	assert.Equal(t, []any{"required by the audit, row 4", 35.0}, []any{shop.Criteria[0].Name, shop.Criteria[0].RequiredIn(true)})
	assert.Equal(t, []string{"row 4, reflectances: blank: 50/30/20, assumed", "row 4, proposed: blank: stays as it is, 2 F96T12 strip-4in magnetic",
		"row 4, mounting_height: blank: at the ceiling, 14"}, made.Defaults, "rows as a spreadsheet counts them, the blank one too")
	again, err := building.Read("again.toml", made.Text, none, shelf)
	require.NoError(t, err)
	assert.Equal(t, b.InputsDigest, again.InputsDigest)
}

// A sheet, its building, the sheet of that and its building again: the same answer, in a workbook as in CSV.
func TestRoundTrip(t *testing.T) {
	made, err := audit.ReadSheet("walk.csv", []byte(walk)).Building("walk", false, nil, none, shelf)
	require.NoError(t, err)
	first, lost, err := audit.From("back.csv", made.Building)
	require.NoError(t, err)
	assert.Empty(t, lost)
	for _, name := range []string{"back.csv", "back.xlsx"} {
		sheet, _, err := audit.From(name, made.Building)
		require.NoError(t, err)
		again, err := audit.ReadSheet(name, sheet).Building("walk", false, nil, none, shelf)
		require.NoError(t, err)
		second, _, err := audit.From("back.csv", again.Building)
		require.NoError(t, err)
		assert.Equal(t, string(first), string(second), name)
		for i, s := range made.Building.Spaces {
			o := again.Building.Spaces[i]
			assert.Equal(t, s.Job.Existing.Use, o.Job.Existing.Use)
			assert.Equal(t, s.Job.Proposed.Layout, o.Job.Proposed.Layout)
			assert.Equal(t, s.Job.Room, o.Job.Room)
		}
	}
}

// Kinds of a file are known by their names, and its files are seen from where the building is written.
func TestKindsOfAFile(t *testing.T) {
	const file = "[kinds.strip]\nphotometry = \"old.ies\"\nfixture = \"strip-4in\"\n[kinds.tube]\nfixture = \"own.toml\"\n"
	kinds, err := audit.KindsOf("k.toml", []byte(file), func(name string) string { return "far/" + name })
	require.NoError(t, err)
	assert.Equal(t, audit.Kinds{"strip": map[string]any{"photometry": "far/old.ies", "fixture": "strip-4in"}, "tube": map[string]any{"fixture": "far/own.toml"}}, kinds)
	for _, bad := range []string{"", "[room]\n", "[kinds"} {
		_, err := audit.KindsOf("k.toml", []byte(bad), nil)
		assert.ErrorContains(t, err, "k.toml", bad)
	}
	good, err := audit.KindsOf("k.toml", []byte("[kinds.Strip]\nfixture = \"strip-4in\"\nlamp = \"F96T12\"\nlamps = 2\nballast = \"magnetic\"\n[kinds.unused]\nlamps = 3\n"), nil)
	require.NoError(t, err)
	made, err := audit.ReadSheet("w.csv", []byte(head+"hall,,40,30,14,50/30/20,strip,STRIP,4,,12,,,,,\n")).Building("w", false, good, none, shelf)
	require.NoError(t, err)
	assert.Equal(t, "Strip", made.Building.Spaces[0].Job.Existing.Kind)
	assert.NotContains(t, string(made.Text), "unused")
}

// wrongSheets are mistakes of a tired person, in a row, and what is said of each.
var wrongSheets = []struct{ from, to, want string }{
	{"120,60", "120 ft,60", `row 2, column C: length: is the text "120 ft", want the number alone`},
	{"120,60", "-120,60", "row 2, column C: length: is -120"},
	{"120,60", ",60", "row 2, column C: length: is missing"},
	{"60,18", "60,1800", "row 2, column E: height: is 1800"},
	{"warehouse-bulky", "warehouse", `row 2, column B: type: "warehouse" is not in the list of spaces`},
	{"50/30/20", "50/30", "row 2, column F: reflectances: is 50/30, want three numbers in percent"},
	{"50/30/20", "0.5/0.3/0.2", "row 2, column F: reflectances: is 0.5/0.3/0.2"},
	{"50/30/20", "50/130/20", "row 2, column F: reflectances: is 50/130/20"},
	{"2 F96T12 strip-4in magnetic,4", "2 F96T13 strip-4in magnetic,4", `row 2, column G: existing: "F96T13" is not in the lamp list`},
	{"2 F96T12 strip-4in magnetic,4", "2 F96T12 strip-9in magnetic,4", `row 2, column G: existing: "strip-9in"`},
	{"2 F96T12 strip-4in magnetic,4", "2 F96T12 strip-4in magnetism,4", `row 2, column G: existing: "magnetism" is not in the ballast list`},
	{"2 F96T12 strip-4in magnetic,4", "old strips,4", `row 2, column G: existing: "old strips" is no kind of luminaire, want lamps in one luminaire`},
	{"2 F96T12 strip-4in magnetic,4", ",4", "row 2, column G: existing: is missing"},
	{",50,5,", ",0,5,", "row 2, column I: count: is 0"},
	{",50,5,", ",fifty,5,", `row 2, column I: count: is the text "fifty"`},
	{",50,5,", ",,5,", "row 2, column I: count: is missing"},
	{",50,5,", ",50,51,", "row 2, column J: failed: is 51, and the group has 50 luminaires"},
	{",16,4000", ",19,4000", "row 2, column K: mounting_height: is 19"},
	{",16,4000", ",16,9000", "row 2, column L: hours: is 9000"},
	{"occupancy", "sensors", `row 2, column M: control: "sensors" is not known, want one of none, occupancy`},
	{"20%", "120%", "row 2, column N: control_saving: is 1.2"},
	{"warehouse-active-bulky", "warehouse-bulk-active", `row 2, column O: level: "warehouse-bulk-active" is not in the list of levels`},
	{"hall,", ",", "row 2, column A: space: is blank"},
	{"Shop,,,,", "Shop,,41,,", "row 5, column C: length: is 41, and row 4 of the same room has 40"},
	{"type,", "kind_of_space,", `row 1: column B is called "kind_of_space", want one of space, type`},
	{"height,ref", "heigth,ref", `row 1: column E is called "heigth", want height, perhaps`},
	{",note\n", ",space\n", "row 1, column A: space: is a column for the second time"},
	{"count,", "failed,", "row 1: count: is no column of the head"},
	{",12,,,,,,35,\n", ",12,,,,,,35,,,more\n", `row 4: column R has "more" and no name in the head`},
}

func TestWrongSheets(t *testing.T) {
	for _, c := range wrongSheets {
		require.Contains(t, walk, c.from)
		_, err := audit.ReadSheet("walk.csv", []byte(strings.Replace(walk, c.from, c.to, 1))).Building("walk", false, nil, none, shelf)
		if assert.Error(t, err, c.to) {
			assert.Contains(t, err.Error(), "walk.csv, "+c.want, c.to)
			assert.NotContains(t, err.Error(), "walk.csv:", "%s: of rows, not of lines of what was made", c.to)
		}
	}
	all := strings.NewReplacer("120,60", "x,60", ",50,5,", ",0,5,", "40,30", "40,-30", ",none,3", ",none,3.5").Replace(walk)
	_, err := audit.ReadSheet("walk.csv", []byte(all)).Building("walk", false, nil, none, shelf)
	require.Error(t, err)
	assert.Equal(t, []string{"row 2, column C: length", "row 2, column I: count", "row 4, column D: width", "row 5, column I: count"}, starts(err), "all at once, in the order of the rows")
	for _, whole := range []string{"", "\n\n", head, "\xff\xfes", "a\x00"} {
		_, err := audit.ReadSheet("walk.csv", []byte(whole)).Building("walk", false, nil, none, shelf)
		assert.Error(t, err, "%q", whole)
	}
	_, err = audit.ReadSheet("walk.xlsx", []byte(walk)).Building("walk", false, nil, none, shelf)
	assert.ErrorContains(t, err, "walk.xlsx: the workbook cannot be read")
}

// starts are the places of faults.
func starts(err error) []string {
	var all []string
	for line := range strings.SplitSeq(err.Error(), "\n") {
		place, _, _ := strings.Cut(strings.TrimPrefix(line, "walk.csv, "), ": is ")
		all = append(all, place)
	}
	return all
}

// Sheets of other countries have semicolons and commas in numbers.
func TestSemicolons(t *testing.T) {
	text := strings.ReplaceAll(head, ",", ";") + "halle;;36,5;18;5,5;50/30/20;2 F96T12 strip-4in magnetic;none;5;;4,5;;;;;\n" + "halle;;;;;;none;2 F96T12 strip-4in magnetic;5;;4,5;;;;300;\n"
	made, err := audit.ReadSheet("walk.csv", []byte("\xef\xbb\xbf"+strings.ReplaceAll(text, "\n", "\r\n"))).Building("walk", true, nil, none, shelf)
	require.NoError(t, err)
	assert.Equal(t, 36.5, made.Building.Spaces[0].Job.Room.Length)
	assert.Equal(t, 300.0, made.Building.Spaces[0].Job.Criteria[0].RequiredIn(false))
}

// The workbook has a head, lists to choose from and a sheet that explains the columns; CSV is the head alone.
func TestForm(t *testing.T) {
	text, err := audit.Form("form.csv", false, nil)
	require.NoError(t, err)
	assert.Equal(t, head, string(text))
	content, err := audit.Form("form.xlsx", true, audit.Kinds{"strip": nil})
	require.NoError(t, err)
	f, err := excelize.OpenReader(bytes.NewReader(content))
	require.NoError(t, err)
	assert.Equal(t, []string{"audit", "columns", "lists"}, f.GetSheetList())
	rows, err := f.GetRows("audit")
	require.NoError(t, err)
	assert.Equal(t, strings.Split(strings.TrimSpace(head), ","), rows[0])
	lists, err := f.GetDataValidations("audit")
	require.NoError(t, err)
	assert.Len(t, lists, 4, "type, existing, proposed, control")
	columns, err := f.GetRows("columns")
	require.NoError(t, err)
	assert.Len(t, columns, 20, "a head, the units, 18 columns")
	kinds, err := f.GetCols("lists")
	require.NoError(t, err)
	assert.Equal(t, []string{"existing", "strip", "none", ""}, kinds[1][:4])
	require.NoError(t, f.Close())
}

// Thirty rooms, no two alike, are thirty spaces with a kind each.
func TestThirtyRooms(t *testing.T) {
	var sheet strings.Builder
	sheet.WriteString(head)
	for i := range 30 {
		fmt.Fprintf(&sheet, "room %d,,%d,20,10,50/30/20,2 F96T12 strip-4in magnetic,4 F32T8/800 strip-4in is-normal,6,,9,,,,20,\n", i+1, 30+i)
	}
	made, err := audit.ReadSheet("walk.csv", []byte(sheet.String())).Building("walk", false, nil, none, shelf)
	require.NoError(t, err)
	assert.Len(t, made.Building.Spaces, 30)
	assert.Len(t, made.Building.Whole.Existing.Kinds(), 30)
}
