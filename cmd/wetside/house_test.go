package main

// How large a room, a file and a type may become. Imports that run back up are found by TestArrows.

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const (
	mostFiles   = 25  // of a package, without tests
	mostMethods = 25  // of a type, on any system
	mostLines   = 300 // of a file, without tests
)

// measured gives the size of every package, file and type that is over its limit.
func measured(t *testing.T, list []listed) map[string]int {
	t.Helper()
	over := map[string]int{}
	for _, p := range list {
		name := strings.TrimPrefix(p.ImportPath, module)
		if name == "" || strings.HasSuffix(name, "test") {
			continue // what only tests use
		}
		files := append(append([]string{}, p.GoFiles...), p.IgnoredGoFiles...)
		methods := map[string]map[string]bool{}
		n := 0
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			n++
			path := filepath.Join(p.Dir, file)
			if lines := countMethods(t, path, methods); lines > mostLines {
				over[name+"/"+file] = lines
			}
		}
		if n > mostFiles {
			over[name] = n
		}
		for of, names := range methods {
			if len(names) > mostMethods {
				over[name+"."+of] = len(names)
			}
		}
	}
	return over
}

// countMethods adds a file's methods to those of their types, and counts its lines.
func countMethods(t *testing.T, path string, methods map[string]map[string]bool) (lines int) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f, err := parser.ParseFile(token.NewFileSet(), path, text, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range f.Decls {
		m, ok := d.(*ast.FuncDecl)
		if !ok || m.Recv == nil {
			continue
		}
		of := receiver(m.Recv.List[0].Type)
		if methods[of] == nil {
			methods[of] = map[string]bool{}
		}
		methods[of][m.Name.Name] = true
	}
	return strings.Count(string(text), "\n")
}

// receiver is the name of a method's type.
func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.Ident:
		return e.Name
	}
	return ""
}

func TestNoRoomIsTooLarge(t *testing.T) {
	for what, size := range measured(t, packages(t)) {
		t.Errorf("%s: %d; at most %d files of a package, %d lines of a file, %d methods of a type", what, size, mostFiles, mostLines, mostMethods)
	}
}

// The count finds what it is for: a type's methods by name, whatever the system and the receiver.
func TestMethodsAreCounted(t *testing.T) {
	methods := map[string]map[string]bool{}
	path := filepath.Join(t.TempDir(), "a.go")
	text := "package a\n\ntype T[K any] struct{}\n\nfunc (t *T[K]) One() {}\nfunc (t T[K]) Two() {}\nfunc free() {}\n"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	for range 2 { // as the file of another system with the same methods
		if lines := countMethods(t, path, methods); lines != 7 {
			t.Errorf("%d lines", lines)
		}
	}
	if len(methods) != 1 || len(methods["T"]) != 2 {
		t.Errorf("counted %v", methods)
	}
}
