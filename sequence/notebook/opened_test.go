package notebook

import (
	"testing"

	"example.org/wetside/sequence/journal"
)

func opened(t testing.TB, store journal.Store, id string) Session {
	t.Helper()
	s, err := Open(store, id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
