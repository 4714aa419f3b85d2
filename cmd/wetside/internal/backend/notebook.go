package backend

// The sessions kept on this computer, for the screens.

import (
	"errors"
	"io/fs"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// pastSessions are the sessions in the notebook and those out of it.
type pastSessions struct{ env *app.Env }

func (n pastSessions) FirstRun() bool { return len(journal.Default().IDs()) == 0 }

func (n pastSessions) Sessions() []notebook.Summary { return notebook.List(journal.Default()) }

// ArchivedSessions are those out of the notebook, newest first.
func (n pastSessions) ArchivedSessions() []notebook.Summary {
	return notebook.List(notebook.ArchivedStore(journal.Default()))
}

// Read finds a session in the notebook, else among those that are archived.
func (n pastSessions) Read(id string) (notebook.Session, error) {
	s, err := notebook.OpenWithLooks(journal.Default(), id)
	if errors.Is(err, fs.ErrNotExist) && s.Path == "" {
		if old, unread := notebook.Open(notebook.ArchivedStore(journal.Default()), id); old.Path != "" {
			return old, unread
		}
	}
	return s, err
}

// Films is all that is known of films.
func (n pastSessions) Films() []film.Known { return app.Films().Collect("") }

// KnownOf is all that is known of one film.
func (n pastSessions) KnownOf(name string) []film.Known { return app.Films().Collect(name) }

// Restore brings an archived session back into the notebook.
func (n pastSessions) Restore(id string) error { return notebook.Restore(journal.Default(), id) }

func (n pastSessions) Note(id string, note notebook.Note) error {
	return notebook.AddNote(journal.Default(), id, note)
}

func (n pastSessions) Archive(id string) error { return notebook.Archive(journal.Default(), id) }

func (n pastSessions) SessionScatter() *sequence.SessionScatter { return app.SessionScatter() }

func (n pastSessions) OwnSessions(except ...string) *curve.OwnSessions {
	return app.OwnSessions(except...)
}

func (n pastSessions) WetTrials(film string, v sequence.Vessel) []notebook.WetTrial {
	return notebook.WetTrials(journal.Default(), film, v)
}
