package backend

// The sessions kept on this computer, for the screens.

import (
	"errors"
	"io/fs"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

func (h *Backend) FirstRun() bool { return len(journal.Default().IDs()) == 0 }

func (h *Backend) Sessions() []notebook.Summary { return notebook.List(journal.Default()) }

// ArchivedSessions are those out of the notebook, newest first.
func (h *Backend) ArchivedSessions() []notebook.Summary {
	return notebook.List(notebook.ArchivedStore(journal.Default()))
}

// Read finds a session in the notebook, else among those that are archived.
func (h *Backend) Read(id string) (notebook.Session, error) {
	s, err := notebook.Open(journal.Default(), id)
	if errors.Is(err, fs.ErrNotExist) && s.Path == "" {
		if old, unread := notebook.Open(notebook.ArchivedStore(journal.Default()), id); old.Path != "" {
			return old, unread
		}
	}
	return s, err
}

// Restore brings an archived session back into the notebook.
func (h *Backend) Restore(id string) error { return notebook.Restore(journal.Default(), id) }

func (h *Backend) Note(id string, n notebook.Note) error {
	return notebook.AddNote(journal.Default(), id, n)
}

func (h *Backend) Archive(id string) error { return notebook.Archive(journal.Default(), id) }

func (h *Backend) ObservedLimit(film string, v sequence.Vessel) string {
	return notebook.ObserveLimit(journal.Default(), film, v).Sentence(h.Env.Settings.Habits)
}
