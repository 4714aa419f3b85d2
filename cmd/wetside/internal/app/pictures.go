package app

// Pictures of negatives and tables of step tablets, read from the files that a person names.

import (
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/scan"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/plainfile"
)

// MaxTableFile is how many bytes a table may have: of readings, of a tablet, of sheets that wait.
const MaxTableFile = 1 << 20

// What a picture may weigh: one of the largest size that is read, uncompressed.
const (
	maxPictureFile = 250 << 20
	pictureMemory  = 300 << 20 // beyond it the collector works harder while a picture is read
)

// OpenPicture reads a picture, and says what its file was.
func OpenPicture(name string) (*scan.Picture, densities.PictureFile, error) {
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(pictureMemory))
	of := densities.PictureFile{Name: filepath.Base(name)}
	info, err := os.Stat(name) // before it is opened: a pipe that nobody writes would be waited for
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, of, fmt.Errorf("%s: no such file", name)
	case err != nil:
		return nil, of, err
	case !info.Mode().IsRegular():
		if _, _, err = plainfile.ReadRegular(name, 0); err == nil {
			err = fmt.Errorf("%s: not a file; expected a picture", name)
		}
		return nil, of, err
	case info.Size() > maxPictureFile:
		return nil, of, fmt.Errorf("%s: larger than %d MB", name, maxPictureFile>>20)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, of, err
	}
	defer f.Close()
	picture, err := scan.Decode(io.NewSectionReader(f, 0, info.Size()))
	if err != nil {
		return nil, of, fmt.Errorf("%s: %w", name, err)
	}
	sum := sha256.New()
	if _, err := io.Copy(sum, io.NewSectionReader(f, 0, info.Size())); err != nil {
		return nil, of, err
	}
	of.Hash = fmt.Sprintf("%x", sum.Sum(nil)[:6])
	return picture, of, nil
}

// ReadTablet is the densities of a step tablet's file, rising.
func ReadTablet(name string) ([]float64, error) {
	data, err := plainfile.Read(name, MaxTableFile)
	if err != nil {
		return nil, err
	}
	steps, err := curve.ReadTablet(name, data, "")
	if err != nil {
		return nil, err
	}
	list := make([]float64, len(steps))
	for i, s := range steps {
		list[i] = float64(s)
	}
	if len(list) > 1 && cmp.Less(list[1], list[0]) {
		slices.Reverse(list)
	}
	return list, nil
}
