package verification

import "lampswap/photometry/survey"

// A Note is how readings were taken in, or what none of them prove, with what belongs to it.
type Note struct {
	Code       NoteCode
	Of         string // the grid, the station or the criterion
	Survey     survey.Note
	Count, All int         // of luminaires
	Value      float64     // a factor; of the lamps that were out, the share that was noted
	Failed     float64     // of all lamps, the share in luminaires that the job has as failed
	Missing    []string    // stations
	Open       *Unresolved // for which nothing is corrected
}

// A NoteCode is what a note is about.
type NoteCode int

// The codes, with what a note has beside its own.
const (
	InReadings           NoteCode = iota // Survey; Of a grid, or of all
	AsFound                              // Count of All give no light, by the job
	Multiplied                           // readings, by the meter's Value
	CertificateUncounted                 // besides the meter's class
	LampsOutDisagree                     // Value, Failed
	LampsOutDark                         // Value, Failed: these are dark already
	InsideRack                           // Of: a station of which nothing is predicted
	Uncorrected                          // Open
	NothingToCorrect                     // no average of the work plane, or no light
	ProvesNoGlare                        // Of: a criterion
	ProvesNoColor                        // Of: a criterion
	ProvesNoCylinder                     // Of: a grid
	NotPlanned                           // Of: a grid with criteria
	SampleOfGrid                         // Of: a grid
	NoAverage                            // Of: a grid; Missing
)

func (v *Verification) note(n Note) { v.Notes = append(v.Notes, n) }

// A Doubt is what else than their uncertainty keeps readings from deciding a criterion.
type Doubt struct {
	Why      Why
	Stations int         // not read
	Open     *Unresolved // what is not resolved
}

// A Why is the kind of a doubt.
type Why int

// The kinds.
const (
	ByDaylight   Why = iota // in the readings
	ByUnread                // Stations
	BySample                // stations are a sample
	ByUnresolved            // Open
	ByRacks                 // no average without the stations that lie inside them
	ByZero                  // a reading is 0, so there is no ratio
	ByLosses                // those of the day leave no light to carry on
)
