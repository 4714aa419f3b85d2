package light

// What a console without half blocks and braille is shown.

import (
	"bytes"
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

// isInFonts tells whether every console font has a character: ASCII and the symbols that
// testdata/console_fonts.py found.
func isInFonts(r rune) bool { return r >= ' ' && r <= '~' || strings.ContainsRune(plainSymbols, r) }

// Every screen, as its pictures in testdata show it, is drawn with what the fonts have, and
// nothing of it is lost.
func TestEveryScreenInPlainGlyphs(t *testing.T) {
	files, err := filepath.Glob("../screen/*/testdata/*.txt")
	if err != nil || len(files) < 50 {
		t.Fatalf("%d pictures, %v", len(files), err)
	}
	for _, name := range files {
		view, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var p picture
		p.read(string(view), 250, strings.Count(string(view), "\n")+1)
		p.plain()
		for _, c := range p.cells {
			lost := c.r == '?' && !bytes.ContainsRune(view, '?')
			if c.r != 0 && !isInFonts(c.r) && !unicode.IsLetter(c.r) || c.marks != "" || lost {
				t.Errorf("%s: shows %q %q", name, c.r, c.marks)
			}
		}
	}
}

// Whatever is written as text in the source of the screens has something to stand for it.
func TestEveryTextHasPlainGlyphs(t *testing.T) {
	texts := 0
	err := filepath.WalkDir("..", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") || strings.HasSuffix(name, "plain.go") {
			return err
		}
		source, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		var s scanner.Scanner
		files := token.NewFileSet()
		s.Init(files.AddFile(name, -1, len(source)), source, nil, 0)
		for {
			at, kind, literal := s.Scan()
			if kind == token.EOF {
				return nil
			}
			if kind != token.STRING && kind != token.CHAR {
				continue
			}
			if text, err := strconv.Unquote(literal); err == nil {
				texts++
				for _, r := range text {
					if unicode.IsPrint(r) && r != '?' && plainGlyph(r) == '?' {
						t.Errorf("%s: nothing stands for %q", files.Position(at), r)
					}
				}
			}
		}
	})
	if err != nil || texts < 1000 {
		t.Errorf("%d texts, %v", texts, err)
	}
}

// All braille characters have ink where their dots are, in glyphs that the fonts have.
func TestPlainDots(t *testing.T) {
	for dots := range 256 {
		if r := plainGlyph(0x2800 + rune(dots)); !isInFonts(r) || (r == ' ') != (dots == 0) {
			t.Errorf("dots %08b: %q", dots, r)
		}
	}
	for braille, want := range map[rune]rune{'⠁': '\'', '⠉': '\'', '⠒': '\'', '⠤': '.', '⣀': '_', '⡇': '│', '⠶': '-', '⠔': '-'} {
		if got := plainGlyph(braille); got != want {
			t.Errorf("%c: %q; want %q", braille, got, want)
		}
	}
}

// The Linux console gets plain glyphs unasked, another terminal where it is asked to.
func TestWhoGetsPlainGlyphs(t *testing.T) {
	for _, c := range []struct {
		kind        string
		asked, want bool
	}{{"linux", false, true}, {"xterm", false, false}, {"xterm", true, true}} {
		var out bytes.Buffer
		g := newGuard(&out, c.kind, Sixteen)
		g.size = func() (int, int, error) { return 20, 2, nil }
		if c.asked {
			g.PlainGlyphs(true)
		}
		g.SetLight(White)
		if err := g.Show("█▀▄ ⠒ é 21.5 °C …"); err != nil {
			t.Fatal(err)
		}
		if err := g.Show("█▀▄ ñ\u0301 21.5 °C …"); err != nil || strings.Contains(out.String(), "\u0301") != !c.want {
			t.Errorf("%s: %v, %q", c.kind, err, out.String())
		}
		if plain := !strings.ContainsAny(out.String(), "▀▄⠒…"); plain != c.want || !strings.Contains(out.String(), "21.5 °C") {
			t.Errorf("%s, asked %v: %q", c.kind, c.asked, out.String())
		}
	}
}

// Who asks for plain glyphs has what is shown already drawn anew with them.
func TestPlainGlyphsAreDrawnAnew(t *testing.T) {
	var out bytes.Buffer
	g := newGuard(&out, "xterm", FullColour)
	g.size = func() (int, int, error) { return 20, 2, nil }
	g.Show("dots …")
	for _, plain := range []bool{true, false} {
		out.Reset()
		g.PlainGlyphs(plain)
		if g.Show("dots …"); strings.Contains(out.String(), "~") != plain || !strings.Contains(out.String(), "dots") {
			t.Errorf("plain %t: %q", plain, out.String())
		}
	}
}

// A photograph in half blocks is drawn in full cells of the colours between; large letters keep their
// stand-ins.
func TestPhotographsInPlainGlyphs(t *testing.T) {
	var out bytes.Buffer
	g := newGuard(&out, "linux", FullColour)
	g.size = func() (int, int, error) { return 20, 2, nil }
	g.SetLight(White)
	if err := g.Show("\x1b[38;2;200;100;50;48;2;100;50;150m▀\x1b[38;2;90;90;90;48;2;1;1;1m▀\x1b[0m ▀"); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"38;2;150;75;100", "38;2;45;45;45", "█", "■"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q; expected %s in it", out.String(), want)
		}
	}
	if strings.Count(out.String(), "■") != 1 {
		t.Errorf("%q", out.String())
	}
}
