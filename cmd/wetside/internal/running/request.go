package running

// A request for a session that another process runs: a file beside its journal, written and
// read only where nobody else can put one, and believed only from ourselves.

import (
	"errors"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/sequence/journal"
)

const (
	requestMaxAge = 10 * time.Second // an older request has nobody behind it
	maxRequest    = 32               // bytes: a number
)

// requestFile is the name of the file that asks for a session.
func requestFile(id string) string { return id + ".request" }

// requestSession leaves a request in every folder that is ours and has a file of the session. withdraw takes it away again.
func requestSession(store journal.Store, id string) (withdraw func(), err error) {
	var left []*os.Root
	withdraw = func() {
		for _, folder := range left {
			folder.Remove(requestFile(id))
			folder.Close()
		}
	}
	err = errors.New("no folder of ours to put a request into")
	for _, name := range store.FoldersOf(id) {
		folder, notOurs := journal.OpenOurs(name)
		if notOurs != nil {
			continue
		}
		if wrote := writeRequest(folder, id); wrote != nil {
			err = wrote
			folder.Close()
			continue
		}
		left = append(left, folder)
	}
	if len(left) > 0 {
		err = nil
	}
	return withdraw, err
}

// writeRequest puts a new file in the place of whatever has its name: nothing is written
// through a link.
func writeRequest(folder *os.Root, id string) error {
	folder.Remove(requestFile(id))
	f, err := folder.OpenFile(requestFile(id), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.WriteString(strconv.Itoa(os.Getpid()) + "\n")
	return errors.Join(err, f.Close())
}

// takeRequest tells whether another process asks for the session. The request
// is taken away: it is answered once. One left by a process that is no longer there,
// or that has stopped waiting, or by another user, is not heeded.
func takeRequest(store journal.Store, id string) bool {
	asked := false
	for _, name := range store.Folders {
		folder, err := journal.OpenOurs(name)
		if err != nil {
			continue
		}
		pid, age := readRequest(folder, id)
		folder.Remove(requestFile(id))
		folder.Close()
		asked = asked || pid > 0 && pid != os.Getpid() && age < requestMaxAge && processExists(pid)
	}
	return asked
}

// readRequest is who asks, 0 for nobody, and how long ago.
func readRequest(folder *os.Root, id string) (pid int, age time.Duration) {
	there, err := folder.Lstat(requestFile(id))
	if err != nil || !there.Mode().IsRegular() || !journal.IsOurs(there) {
		return 0, 0
	}
	f, err := folder.Open(requestFile(id))
	if err != nil {
		return 0, 0
	}
	defer f.Close()
	if opened, err := f.Stat(); err != nil || !os.SameFile(there, opened) {
		return 0, 0
	}
	text, err := io.ReadAll(io.LimitReader(f, maxRequest))
	pid, wrong := strconv.Atoi(strings.TrimSpace(string(text)))
	if err != nil || wrong != nil {
		return 0, 0
	}
	return pid, time.Since(there.ModTime()).Abs()
}
