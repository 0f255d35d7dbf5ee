package job

import (
	"slices"

	"lampswap/photometry/internal/tomlfile"
)

// A room of a building is read from tables that the building has put together: its own, and what the building lends it. The building's money is
// read once, against all its luminaires together, which are one Job for that.

// ReadRoom reads a room of a building; what is wrong with it is noted in its file. The files that it names are opened by the given function,
// and luminaires come from the shelf, which may be nil.
func (s *Shelf) ReadRoom(file *tomlfile.File, files Files) *Job {
	r := &reader{file: file, files: files, shelf: s, job: &Job{shelf: s}, before: &System{}, ofBuilding: true}
	r.read()
	return r.job
}

// terms reads over how many years a room of a building is looked at; what the building takes by default is said there.
func (r *reader) terms(top *tomlfile.Table) {
	known := len(r.job.Defaults)
	r.lifeCycle(top.Table("life_cycle"))
	r.job.Defaults = r.job.Defaults[:known]
}

// ReadHead reads what a building says of itself: its title, its units, where and when it is, and what is offered by whom. Files opens pictures.
func ReadHead(file *tomlfile.File, files Files) *Job {
	r := &reader{file: file, files: files, job: &Job{}}
	r.head(file.Root())
	return r.job
}

// ReadMoney reads, into a job of all luminaires of a building, what power costs there, what the swap costs and what is paid for it.
func ReadMoney(file *tomlfile.File, whole *Job) {
	r := &reader{file: file, job: whole, building: true}
	for _, kind := range whole.Kinds() { // whose shifts may fall into the tariff's peak
		if s := kind.Use.Schedule; s != nil && !slices.Contains(r.schedules, s) {
			r.schedules = append(r.schedules, s)
		}
	}
	r.money(file.Root())
}

// WithoutMoney is a job without a price of power, and with nothing that its swap costs or is paid for: only what upkeep costs stays, which goes
// with its luminaires.
func (j *Job) WithoutMoney() {
	j.Tariff, j.Currency, j.CurrencyGiven = Tariff{}, "", false
	for _, s := range j.Systems() {
		s.Costs.InstalledCost, s.Costs.Rebate, s.Costs.Lines, s.Costs.Rebates = nil, nil, nil, nil
	}
}
