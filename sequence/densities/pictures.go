package densities

// Readings of pictures, kept as those that are typed.

import (
	"fmt"
	"math"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/scan"
	"example.org/wetside/sequence/notebook"
)

// PictureFile is a picture's file: its name without the folder, and the first 12 digits of its SHA-256.
type PictureFile struct{ Name, Hash string }

// PictureFolder is what of a folder can be read: pictures, and tablets with those kept beside readings.
type PictureFolder struct {
	Path     string
	Pictures []string // names without the folder
	Tablets  []Tablet
	Err      error // why nothing of it can
}

// ReadPicture is a picture with what was read off it.
type ReadPicture struct {
	Of     PictureFile
	Result *scan.Result
}

// PictureReadings is what becomes readings.
type PictureReadings struct {
	Pictures      []ReadPicture
	Tablet        []float64
	Film, Session string
	Channel       scan.Channel
	Sheets        []notebook.SheetDevelopment // each strip's, of all pictures; without a session they have no number
	KeepSpotted   bool
	Day           time.Time
}

// channelsOf are scan's channels by the names that readings have for them.
var channelsOf = map[scan.Channel]curve.Channel{scan.Luminance: "", scan.Red: curve.Red, scan.Green: curve.Green, scan.Blue: curve.Blue}

// Readings are those, and how many steps were left out.
func (p PictureReadings) Readings() (r curve.Readings, left int) {
	r = curve.Readings{Film: p.Film, Session: p.Session, Channel: channelsOf[p.Channel], Tablet: p.Tablet}
	for _, picture := range p.Pictures {
		r.Remarks = append(r.Remarks, fmt.Sprintf("%s%s, sha256 %s, %s", curve.OriginMark, picture.Of.Name, picture.Of.Hash, p.Day.Format(time.DateOnly)))
		for _, s := range picture.Result.Strips {
			k := len(r.Sheets)
			r.Add(p.Sheets[k].Actual, p.Sheets[k].Sheet)
			if s.Base != nil {
				r.Sheets[k], _ = p.put(r.Sheets[k], curve.BaseRow, *s.Base)
			}
			for i, patch := range s.Patches {
				var ok bool
				if r.Sheets[k], ok = p.put(r.Sheets[k], i, patch); !ok {
					left++
				}
			}
		}
	}
	return r, left
}

// put enters a patch, where it is to be kept.
func (p PictureReadings) put(s curve.SheetReadings, row int, patch scan.Patch) (curve.SheetReadings, bool) {
	if !patch.Known(p.Channel) || !p.KeepSpotted && patch.Doubt[p.Channel] != scan.NoDoubt {
		return s, false
	}
	const places = 1000 // three
	d := curve.Density(math.Round(places*patch.Density[p.Channel]) / places)
	e := curve.Density(max(1, math.Round(places*patch.Error[p.Channel])) / places)
	return s.Put(row, &d, e), true
}

// Origins are the pictures that readings were read off, with hash and day; none where all was typed.
func Origins(r curve.Readings) (list []string) {
	for _, line := range r.Remarks {
		if len(line) > len(curve.OriginMark) && line[:len(curve.OriginMark)] == curve.OriginMark {
			list = append(list, line[len(curve.OriginMark):])
		}
	}
	return list
}
