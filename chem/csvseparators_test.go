package chem

import "testing"

// A table is read alike however a spreadsheet parted it, and every cell stays where it was.
func TestPlainCSV(t *testing.T) {
	for name, c := range map[string]struct{ in, out string }{
		"semicolons":           {"tablet;5m\n0,05;1,20\n", "tablet,5m\n0.05,1.20\n"},
		"no heading":           {"0;24,5\r\n10m;23,01\r\n", "0,24.5\r\n10m,23.01\r\n"},
		"a comment before":     {"# wind, rain; \n\nlog_h;5m\n-3;0,1\n", "# wind, rain; \n\nlog_h,5m\n-3,0.1\n"},
		"a comment between":    {"a;b\n# 1,5; 2\n1,5;2\n", "a,b\n# 1,5; 2\n1.5,2\n"},
		"a byte order mark":    {"\ufefftablet;5m\n", "\ufefftablet,5m\n"},
		"tabs":                 {"tablet\t5m\n0,05\t1,2\n", "tablet,5m\n0.05,1.2\n"},
		"commas stay":          {"a,b\n1;2,3\n", "a,b\n1;2,3\n"},
		"a tab behind a comma": {"0,\t24.5\n", "0,\t24.5\n"},
		"nothing":              {"", ""},
	} {
		if got := string(PlainCSV([]byte(c.in))); got != c.out {
			t.Errorf("%s: %q; expected %q", name, got, c.out)
		}
	}
}

// The mark that parts a row may be its first; a comma first is a table with commas.
func TestPlainCSVFromTheFirstByte(t *testing.T) {
	for in, want := range map[string]string{";a\n1,5;2\n": ",a\n1.5,2\n", ",\ta\n1,5\n": ",\ta\n1,5\n", "x#;y\n1;2\n": "x#,y\n1,2\n"} {
		if got := string(PlainCSV([]byte(in))); got != want {
			t.Errorf("%q: %q; expected %q", in, got, want)
		}
	}
}
