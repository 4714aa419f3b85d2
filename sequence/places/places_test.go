package places

import (
	"path/filepath"
	"runtime"
	"testing"
)

// The variables' folders, else those that the XDG base directory specification (0.8, "Environment
// variables") gives; a relative path is passed over, as it asks.
func TestPlacesOfTheSpecification(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the specification is for Unix; TestPlacesOnWindows")
	}
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

// On Windows what the person keeps is in the folder that the system has for programs' data, and
// settings and recipes, which are typed, below the person's own.
func TestPlacesOnWindows(t *testing.T) {
	if runtime.GOOS != "windows" {
		t.Skip("not Windows")
	}
	for name, value := range map[string]string{"USERPROFILE": `C:\gull`, "LocalAppData": `C:\gull\local`, "XDG_CONFIG_HOME": "", "XDG_DATA_HOME": "", "XDG_STATE_HOME": `D:\x`} {
		t.Setenv(name, value)
	}
	for _, c := range [][2]string{{Config("x"), `C:\gull\.config\wetside\x`}, {Data("x"), `C:\gull\local\wetside\x`}, {State("x"), `D:\x\wetside\x`}} {
		if c[0] != c[1] {
			t.Errorf("%s; want %s", c[0], c[1])
		}
	}
}

func TestNoHomeNoPlace(t *testing.T) {
	for _, name := range []string{"HOME", "USERPROFILE", "LocalAppData", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"} {
		t.Setenv(name, "")
	}
	if got := Config("x") + Data("x") + State("x"); got != "" {
		t.Errorf("%q", got)
	}
}

func TestSlug(t *testing.T) {
	for title, want := range map[string]string{"Plover, 80": "plover-80", "  Ünder  --x": "nder-x", "潮": "", "Nul": "nul-", "COM1": "com1-", "abcdefghij klm": "abcdefghij", "abcdefghi jk": "abcdefghi"} {
		if got := Slug(title, 10); got != want {
			t.Errorf("%q: %q; want %q", title, got, want)
		}
	}
}

// The names are those of "Naming Files, Paths, and Namespaces" (Microsoft).
func TestDevices(t *testing.T) {
	for _, name := range []string{"nul", "NUL", "nul.toml", "Con.tar.gz", "aux ", "com1", "LPT9.toml", "com²", "CONIN$"} {
		if !IsDevice(name) {
			t.Errorf("%q is a device of Windows", name)
		}
	}
	for _, name := range []string{"", "null", "nul-", "com", "com0", "com10", "lpt", "console", "a.nul", "comlpt1"} {
		if IsDevice(name) {
			t.Errorf("%q is no device", name)
		}
	}
}
