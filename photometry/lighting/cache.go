package lighting

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash"
	"math"
	"slices"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/internal/memo"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// A Cache keeps the light that jobs have in common, by a digest of all that it depends on: the same luminaire
// in the same places of the same room is worked out once, and so is how the surfaces of the same room see
// each other. Lamps and ballasts may differ. A result is the same, to the bit, with a Cache and without. It
// may serve several runs at once.
type Cache struct {
	light      *memo.Cache[litGrids]
	enclosures *memo.Cache[*interreflect.Enclosure]
	optics     direct.Optics
}

type litGrids struct {
	grids   []Grid
	balance *interreflect.Balance
}

// NewCache returns a cache that keeps about as many bytes as given.
func NewCache(bytes int64) *Cache {
	return &Cache{light: memo.New[litGrids](bytes / 2), enclosures: memo.New[*interreflect.Enclosure](bytes / 2)}
}

// Counts returns how often light was asked for and how often it was there.
func (c *Cache) Counts() (asked, found int) { return c.light.Counts() }

// Space is the room of a job, in which light that is known already is not worked out again. It is for one run
// at a time.
func (c *Cache) Space(j *job.Job) *Space {
	p := &Space{job: j, sets: [][]direct.Source{sourcesOf(j)}, optics: &c.optics}
	p.light = func(
		ctx context.Context, source direct.Source, grids []room.Grid,
	) ([]Grid, *interreflect.Balance, error) {
		found, err := c.light.Get(ctx, lightKey(j, source, grids), func() (litGrids, int64, error) {
			if err := fits(j, interreflect.Options{}); err != nil {
				return litGrids{}, 0, err
			}
			if j.Interreflection && p.enclosure == nil { // one of its systems asks for it
				var err error
				if p.enclosure, err = c.enclosure(ctx, j); err != nil {
					return litGrids{}, 0, err
				}
			}
			sources := slices.DeleteFunc(
				p.companions(source),
				func(s direct.Source) bool { return !alike(s, source) && c.light.Has(lightKey(j, s, grids)) },
			)
			found, err := p.shine(ctx, sources, grids)
			if err != nil {
				return litGrids{}, 0, err
			}
			for _, other := range found[1:] {
				c.light.Put(lightKey(j, other.source, grids), litGrids{other.grids, other.balance}, bytesOf(other.grids))
			}
			return litGrids{found[0].grids, found[0].balance}, bytesOf(found[0].grids), nil
		})
		if err != nil {
			return nil, nil, err
		}
		named := make([]Grid, len(grids)) // names are no part of the key
		for i, g := range found.grids {
			g.Grid = grids[i]
			named[i] = g
		}
		return named, found.balance, nil
	}
	return p
}

// enclosure is that of the job's room.
func (c *Cache) enclosure(ctx context.Context, j *job.Job) (*interreflect.Enclosure, error) {
	key := sha256.New()
	writeRoom(key, j)
	return c.enclosures.Get(ctx, memo.Key(key.Sum(nil)), func() (*interreflect.Enclosure, int64, error) {
		enclosure, err := interreflect.NewEnclosure(ctx, j.Room, j.Racks, interreflect.Options{})
		return enclosure, interreflect.Bytes(j.Room, j.Racks, interreflect.Options{}), err
	})
}

// Bytes returns about how much memory the light of all systems of a job takes, so that several jobs can share
// what there is.
func Bytes(j *job.Job) int64 {
	// of a point of a system: direct, interreflected, maintained, and one of them while it is made
	const each = 4 * 8
	total := int64(each) * int64(points(j)) * int64(systems(j))
	if j.Interreflection {
		total += interreflect.Bytes(j.Room, j.Racks, interreflect.Options{})
	}
	return total
}

// points is how many there are on all grids.
func points(j *job.Job) int {
	g := j.Room.WorkPlaneGrid(j.Spacing)
	n := g.NX * g.NY
	for _, g := range j.Grids {
		n += g.NX * g.NY
		if j.Egress != nil && j.Egress.Grid == g.Name {
			n += g.NX * g.NY
		}
	}
	return n
}

func bytesOf(grids []Grid) int64 {
	n := int64(1 << 10)
	for _, g := range grids {
		n += 8 * int64(len(g.Direct)+len(g.Interreflected))
	}
	return n
}

// lightKey is the digest of all that the light of a source on grids depends on. Numbers are written with all
// their digits.
func lightKey(j *job.Job, source direct.Source, grids []room.Grid) memo.Key {
	key := sha256.New()
	writeRoom(key, j)
	writeGrids(key, grids)
	fmt.Fprintf(key, "opening %v placements %v\n", source.Luminaire.Opening, source.Placements)
	writeDistribution(key, source.Luminaire.Distribution)
	return memo.Key(key.Sum(nil))
}

func writeRoom(key hash.Hash, j *job.Job) {
	r := j.Room
	fmt.Fprintf(
		key, "room %v %v %v %v %v racks %v bounces %v\n", r.Length, r.Width, r.Outline, r.Height, r.Reflectance,
		j.Racks, j.Interreflection,
	)
}

func writeGrids(key hash.Hash, grids []room.Grid) {
	for _, g := range grids {
		g.Name = ""
		fmt.Fprintf(key, "grid %v\n", g)
	}
}

func writeDistribution(key hash.Hash, d *photometry.Distribution) {
	planes, angles := d.HorizontalAngles(), d.VerticalAngles()
	fmt.Fprintf(key, "distribution %v %v %v\n", d.QuadrantSymmetric(), planes, angles)
	row := make([]byte, 8*len(angles))
	for h := range planes {
		for v := range angles {
			binary.LittleEndian.PutUint64(row[8*v:], math.Float64bits(d.Candela(h, v)))
		}
		key.Write(row)
	}
}

// systems is how many sets of light are kept: one a kind of luminaire, and their sum.
func systems(j *job.Job) int {
	n := 0
	for _, s := range j.Systems() {
		n += len(s.Kinds())
		if s.Parts != nil {
			n++
		}
	}
	return n
}
