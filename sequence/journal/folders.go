package journal

// Where journals live, and what their files are called.

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"example.org/wetside/sequence/places"
)

// Folders lists the folders that may hold journals, the preferred first: the
// user's state ($XDG_STATE_HOME/wetside/sessions), then the session's runtime
// folder and the temporary one, which a reboot may empty. The last two are for
// sessions that the first cannot take, and bear its mark: whoever keeps sessions
// elsewhere does not meet them. No folder need exist. Where somebody else has taken the temporary
// one's name, one of a name that nobody can guess takes its place.
func Folders() []string {
	var folders []string
	mark := ""
	if first := places.State("sessions"); first != "" {
		mark = fmt.Sprintf("-%08x", crc32.ChecksumIEEE([]byte(first)))
		folders = append(folders, first)
	}
	if run := os.Getenv("XDG_RUNTIME_DIR"); filepath.IsAbs(run) {
		folders = append(folders, filepath.Join(run, "wetside", "sessions"+mark))
	}
	return append(folders, temporary(filepath.Join(os.TempDir(), "wetside-"+strconv.Itoa(max(os.Geteuid(), 0))+mark)))
}

// temporary is the folder of that name if it is ours or nobody's, else one of ours with a longer
// name, made up where there is none yet.
func temporary(name string) string {
	if _, err := os.Lstat(name); err != nil || trusted(name) == nil {
		return name
	}
	others, _ := filepath.Glob(name + ".*")
	for _, other := range others {
		if trusted(other) == nil {
			return other
		}
	}
	return name + "." + unguessable()
}

// unguessable is one word for as long as the program runs.
var unguessable = sync.OnceValue(rand.Text)

const (
	suffix    = ".jsonl"
	maxSlug   = 40
	idPattern = "2006-01-02T1504"
)

// NewID is an id for a session that begins at that moment: ids sort by time
// and hold only letters, digits and hyphens. Of name, a film or a title, ASCII
// letters and digits are kept, then comes the laptop's mark. Where the id is taken a
// number is added.
func (s Store) NewID(at time.Time, name string) string {
	base := s.baseID(at, name)
	for n := 1; ; n++ {
		if id := numbered(base, n); !s.taken(id) {
			return id
		}
	}
}

func (s Store) baseID(at time.Time, name string) string {
	base := at.Format(idPattern)
	if slug := places.Slug(name, maxSlug); slug != "" {
		base += "-" + slug
	}
	if s.Laptop != "" {
		base += "-" + s.Laptop
	}
	return base
}

// numbered is the n-th id of one minute, from 1.
func numbered(base string, n int) string {
	if n == 1 {
		return base
	}
	return fmt.Sprintf("%s-%d", base, n)
}

// IsFromHere reports whether an id was given on this laptop. An id without a mark is another's.
func (s Store) IsFromHere(id string) bool {
	if s.Laptop == "" {
		return true
	}
	beforeNumber := strings.TrimRight(id, "0123456789") // of those that began in one minute
	return strings.HasSuffix(id, "-"+s.Laptop) || strings.HasSuffix(beforeNumber, "-"+s.Laptop+"-")
}

// laptop is a mark of this computer, from its name and, where it has one, the number
// that its system was given when it was set up: three letters or digits. Two of a
// thousand computers are likely to share one; two in a darkroom are not, of one name
// though they be.
func laptop() string {
	name, err := os.Hostname()
	if err != nil {
		return ""
	}
	number, _ := os.ReadFile("/etc/machine-id") // Linux; it is not to leave the machine but hashed
	return markOf(name, string(number))
}

func markOf(name, number string) string {
	sum := sha256.Sum256([]byte("wetside\x00" + name + "\x00" + number))
	const letters = "abcdefghjkmnpqrstuvwxyz23456789" // those that are not taken for others
	n := binary.BigEndian.Uint32(sum[:])
	mark := make([]byte, 3)
	for i := range mark {
		mark[i] = letters[n%uint32(len(letters))]
		n /= uint32(len(letters))
	}
	return string(mark)
}

// checkID keeps ids that people type from being anything but a file's name.
func checkID(id string) error {
	if !IsID(id) {
		return fmt.Errorf("journal: session %q: not an id; expected letters, digits and hyphens", id)
	}
	return nil
}

// segmentName is the file name of segment n, from 1.
func segmentName(id string, n int) string {
	if n == 1 {
		return id + suffix
	}
	return id + "." + strconv.Itoa(n) + suffix
}

// SegmentOf is the id and number of the segment with that file name.
func SegmentOf(name string) (id string, n int, ok bool) {
	stem, ok := strings.CutSuffix(name, suffix)
	id, number, several := strings.Cut(stem, ".")
	n = 1
	if several {
		var err error
		n, err = strconv.Atoi(number)
		ok = ok && err == nil && n > 1
	}
	return id, n, ok && checkID(id) == nil
}
