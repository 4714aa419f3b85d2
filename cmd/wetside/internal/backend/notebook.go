package backend

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

func (h *Backend) FirstRun() bool { return len(journal.Default().IDs()) == 0 }

func (h *Backend) Sessions() []notebook.Summary { return notebook.List(journal.Default()) }

func (h *Backend) Read(id string) (notebook.Session, error) {
	return notebook.Open(journal.Default(), id)
}

func (h *Backend) Note(id string, n notebook.Note) error {
	return notebook.AddNote(journal.Default(), id, n)
}

func (h *Backend) Archive(id string) error { return notebook.Archive(journal.Default(), id) }

func (h *Backend) ObservedLimit(film string, v sequence.Vessel) string {
	return notebook.ObserveLimit(journal.Default(), film, v).Sentence(h.Env.Settings.Habits)
}
