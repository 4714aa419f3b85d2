package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence/places"
)

// The demo's notebook is whole, tells of nothing of the person's, and is gone afterwards.
func TestDemoLeavesNothing(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	put(t, filepath.Join(places.Config("recipes"), "mine.toml"), []byte("title = \"mine\"\n"))
	put(t, places.Config("config.toml"), []byte("sound.out = \"off\"\n"))
	home := filepath.Dir(filepath.Dir(places.Config("")))
	before := filesBelow(t, home)
	s := runVirtually(t, nil, "demo", "--plain")
	if s.status != app.ExitOK || s.err.Len() > 0 {
		t.Fatalf("status %d: %s", s.status, &s.err)
	}
	for _, part := range []string{"recipes/borrowed-time.toml", "recipes/second-test.toml", "recipes/tern-own-time.toml", "the slipway", ", tested "} {
		if !strings.Contains(s.out.String(), part) {
			t.Errorf("no %s in\n%s", part, &s.out)
		}
	}
	if n := strings.Count(s.out.String(), "  done  "); n != 7 {
		t.Errorf("%d sessions are done; expected two tests, one before, one between and three after", n)
	}
	if strings.Contains(s.out.String(), "mine") {
		t.Error("a recipe of the person's is in it")
	}
	if after := filesBelow(t, home); strings.Join(after, "\n") != strings.Join(before, "\n") {
		t.Errorf("before %q, afterwards %q", before, after)
	}
}

// filesBelow are the files and folders below one, by their paths.
func filesBelow(t *testing.T, folder string) (list []string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, _ os.DirEntry, err error) error {
		list = append(list, path)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}
