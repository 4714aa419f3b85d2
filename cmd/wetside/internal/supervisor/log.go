package supervisor

// The log that takes what the child writes to its standard error.

import (
	"os"
	"path/filepath"

	"example.org/wetside/sequence/journal"
)

// logLimit is how large the log may be before it begins anew.
const logLimit = 1 << 20

// openLog opens the log of what the screens write to standard error, beside the
// sessions; where that cannot be, nothing keeps it.
func openLog() (*os.File, string) {
	folder := journal.Folders()[0]
	if filepath.Base(folder) == "sessions" {
		folder = filepath.Dir(folder)
		name := filepath.Join(folder, "screens.log")
		how := os.O_CREATE | os.O_WRONLY | os.O_APPEND
		if info, err := os.Stat(name); err == nil && info.Size() > logLimit {
			how |= os.O_TRUNC
		}
		os.MkdirAll(folder, 0o700)
		if f, err := os.OpenFile(name, how, 0o600); err == nil {
			return f, name
		}
	}
	none, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		return nil, "" // a nil file takes nothing, and says so to nobody
	}
	return none, ""
}
