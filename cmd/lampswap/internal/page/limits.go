package page

import (
	"fmt"

	"lampswap/cmd/lampswap/internal/page/workshop"
)

// Limits says in words what the page takes on.
func Limits() string {
	return fmt.Sprintf("%d luminaires a system, %d racks, %d grid points, %.0f square meters (%.0f thousand square feet)\n  of floor, ceiling, walls and rack faces, "+
		"%d seconds of work, a job file of %d KB, %d photometric files of %d KB,\n  %d visitors", workshop.MostPlaces, workshop.MostRacks, workshop.MostPoints, float64(workshop.MostSurfaces),
		workshop.MostSurfaces/0.09290304/1000, int(workshop.SolveTime.Seconds()), mostText>>10, mostFiles, mostFile>>10, mostSessions)
}
