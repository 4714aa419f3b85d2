package sessiontest

// Lists, ledger and notes changed by several processes in the same instant.

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// What each of the processes does, and how many there are.
const (
	severalIn = "WETSIDE_SEVERAL_IN" // the folder; the test program is then one of them
	severalMe = "WETSIDE_SEVERAL_ME" // its number
	processes = 6
	changes   = 12
)

// TestOneOfSeveral is what TestSeveralProcesses starts: it begins when its input ends.
func TestOneOfSeveral(t *testing.T) {
	folder, me := os.Getenv(severalIn), os.Getenv(severalMe)
	if folder == "" {
		t.Skip("TestSeveralProcesses starts it")
	}
	io.Copy(io.Discard, os.Stdin)
	box := holders.SheetStore{Folder: filepath.Join(folder, "sheets"), Laptop: "dry"}
	ledger := bottles.Ledger{Folder: filepath.Join(folder, "baths"), Laptop: "dry"}
	store := journal.Store{Folders: []string{filepath.Join(folder, "sessions")}}
	session := notebook.List(store)[0].ID
	for i := range changes {
		e := holders.ExposedSheet{Holder: fmt.Sprint(i + 1), Side: me, Film: "Plover 80"}
		if err := box.Add(e); err != nil {
			t.Error(err)
		}
		noted := e
		noted.Note = "gulls"
		if err := box.Replace(e, &noted); err != nil {
			t.Error(err)
		}
		if _, err := ledger.OpenBottle(SixInTray().Baths[0], "", Evening); err != nil {
			t.Error(err)
		}
		if err := notebook.AddNote(store, session, notebook.Note{Text: me, Written: Evening.Add(time.Duration(i) * time.Second)}); err != nil {
			t.Error(err)
		}
	}
}

// Every change takes effect, whoever else is changing the same file.
func TestSeveralProcesses(t *testing.T) {
	folder := t.TempDir()
	store := journal.Store{Folders: []string{filepath.Join(folder, "sessions")}}
	session := Begin(t, store, 0, SixInTray(), sequence.Conditions{}).Finish()
	var running []*exec.Cmd
	var begin []io.Closer
	for n := range processes {
		cmd := exec.Command(os.Args[0], "-test.run=^TestOneOfSeveral$", "-test.v")
		cmd.Env = append(os.Environ(), severalIn+"="+folder, severalMe+"="+string(rune('A'+n)))
		cmd.Stdout, cmd.Stderr = new(strings.Builder), nil
		in, err := cmd.StdinPipe()
		if err == nil {
			err = cmd.Start()
		}
		if err != nil {
			t.Fatal(err)
		}
		running, begin = append(running, cmd), append(begin, in)
	}
	for _, in := range begin {
		in.Close()
	}
	for _, cmd := range running {
		if err := cmd.Wait(); err != nil {
			t.Errorf("%v\n%s", err, cmd.Stdout)
		}
	}
	const want = processes * changes
	list, err := holders.SheetStore{Folder: filepath.Join(folder, "sheets")}.List()
	noted := 0
	for _, e := range list {
		if e.Note == "gulls" {
			noted++
		}
	}
	if err != nil || len(list) != want || noted != want {
		t.Errorf("%d sheets, %d of them noted, %v; expected %d", len(list), noted, err, want)
	}
	baths, err := bottles.Ledger{Folder: filepath.Join(folder, "baths")}.Read()
	if err != nil || len(baths.Bottles) != want || baths.Unreadable != 0 {
		t.Errorf("%d bottles, %d bad lines, %v; expected %d", len(baths.Bottles), baths.Unreadable, err, want)
	}
	s, err := notebook.Open(store, session)
	if err != nil || len(s.NotesAfter.List) != want || s.NotesAfter.Bad != 0 {
		t.Errorf("%d notes, %d bad lines, %v; expected %d", len(s.NotesAfter.List), s.NotesAfter.Bad, err, want)
	}
}
