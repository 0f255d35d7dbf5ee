package survey

// A Note is what a reader must know about a plan, or of how readings were taken in, with what belongs to it.
type Note struct {
	Code             NoteCode
	Of               string   // the grid, the station or the place
	Names, Others    []string // of stations
	Count, All, Dead int
	Share, Meters    float64
}

// A NoteCode is what a note is about.
type NoteCode int

// The codes, with what a note has beside its own.
const (
	OurPlaces     NoteCode = iota // of stations within their bay; the formula is published
	OffAtEnds                     // Share of a spacing from the walls at the ends of the rows, where the formula supposes half
	OffBeside                     // the same beside the rows
	EmptyRoom                     // is what the formula supposes, and there are racks
	MovedOut                      // Names, of racks
	TooFarIn                      // Names, dropped
	PointsLeftOut                 // Count of All, inside racks or near them; Of a grid
	CenterLines                   // of the aisles are walked
	SomeAisles                    // Count of All are read; Share is the chance to see one of Dead
	SomeBays                      // the same of bays beside the formula's
	LikePlaces                    // among the luminaires: so few stations
	StoodFor                      // Names not read: Others do, Of the same place
	MeanOfOthers                  // Names not read: Count others
	ReadElsewhere                 // Of a station, at Meters from it
)
