//go:build unix

package places

import (
	"path/filepath"
	"testing"
)

// The variables' folders, else those that the XDG base directory specification (0.8, "Environment
// variables") gives; a relative path is passed over, as it asks.
func TestPlacesOfTheSpecification(t *testing.T) {
	t.Setenv("HOME", "/home/gull")
	for _, tc := range []struct {
		variable, usual string
		place           func(string) string
	}{
		{"XDG_CONFIG_HOME", "/home/gull/.config", Config}, {"XDG_DATA_HOME", "/home/gull/.local/share", Data}, {"XDG_STATE_HOME", "/home/gull/.local/state", State},
	} {
		for value, base := range map[string]string{"": tc.usual, "here": tc.usual, "/elsewhere": "/elsewhere"} {
			t.Setenv(tc.variable, value)
			if got, want := tc.place("x"), filepath.Join(base, "wetside", "x"); got != want {
				t.Errorf("%s=%s: %s; want %s", tc.variable, value, got, want)
			}
		}
	}
}

func TestNoHomeNoPlace(t *testing.T) {
	for _, name := range []string{"HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"} {
		t.Setenv(name, "")
	}
	if got := Config("x") + Data("x") + State("x"); got != "" {
		t.Errorf("%q", got)
	}
}

func TestSlug(t *testing.T) {
	for title, want := range map[string]string{"Plover, 80": "plover-80", "  Ünder  --x": "nder-x", "潮": "", "abcdefghij klm": "abcdefghij", "abcdefghi jk": "abcdefghi"} {
		if got := Slug(title, 10); got != want {
			t.Errorf("%q: %q; want %q", title, got, want)
		}
	}
}
