package page

import (
	"fmt"
	"math"

	"lampswap/cmd/lampswap/internal/page/workshop"
	"lampswap/photometry"
	"lampswap/photometry/number"
)

// Limits says in words what the page takes on.
func Limits() string {
	const squareFoot = photometry.Foot * photometry.Foot
	return fmt.Sprintf("%s luminaires a system, %d racks, %s grid points, %s square meters (%s square feet)\n  of floor, ceiling, walls and rack faces, "+
		"%d seconds of work, a job file of %d KB, %d photometric files of %d KB,\n  %d kinds of luminaire, %d visitors", number.Thousands(workshop.MostPlaces), workshop.MostRacks,
		number.Thousands(workshop.MostPoints), number.Thousands(workshop.MostSurfaces), number.Thousands(1000*math.Round(workshop.MostSurfaces/squareFoot/1000)),
		int(workshop.SolveTime.Seconds()), mostText>>10, mostFiles, mostFile>>10, workshop.MostKinds, mostSessions)
}
