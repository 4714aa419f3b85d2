package journal

// A folder in which nobody but us can have put anything, held open: what is done through it
// cannot be led elsewhere by whoever puts another in its place.

import (
	"fmt"
	"os"
)

// OpenOurs opens a folder, unless others own it or may write there, or it was laid out below a
// folder where everybody may.
func OpenOurs(folder string) (*os.Root, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	info, err := root.Stat(".")
	if err == nil {
		err = trusted(folder)
	}
	if err == nil && (!IsOurs(info) || othersMayWrite(info)) {
		err = fmt.Errorf("%s: folder is not ours alone; expected one that we own and nobody else may write in", folder)
	}
	if err != nil {
		root.Close()
		return nil, err
	}
	return root, nil
}
