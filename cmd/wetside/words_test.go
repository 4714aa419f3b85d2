package main

// Below tui/say no package makes a sentence for people: codes and values go up, words are
// made there. Errors keep their own, but for refusals.

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// wordless are the packages whose words are made in tui/say.
var wordless = []string{"chem", "sequence", "sequence/bottles", "sequence/clock", "sequence/densities", "sequence/engine", "sequence/holders", "sequence/journal", "sequence/live",
	"sequence/notebook", "sequence/places", "sequence/plainfile", "sequence/planning", "sequence/schedule", "sequence/thermometer"}

// stillWords are the declarations that make words yet, each with what they are.
var stillWords = map[string]bool{
	// what was expected, or what is wrong, handed to an error
	"chem.ParseMix": true, "chem.ParseStock": true, "chem.parseDilution": true, "chem.parseSolids": true, "sequence.OneOf": true,
	"sequence/journal.check": true, "sequence/journal.emptyFile": true, "sequence/journal.scan": true,
	// kept in a recipe or a journal: a step's name, a recipe's own text, an event's text
	"sequence/planning.insertWashingAid": true, "sequence/planning.mixedByLabel": true, "sequence/densities.Refine": true, "sequence/densities.aimText": true, "sequence/densities.UseActualTimes": true,
	"sequence/engine.decision.gap": true, "sequence/engine.decision.resume": true, "sequence/live.keeper.report": true, "sequence/live.loop.checkWallClock": true,
	"sequence/thermometer.Filter.Take": true, "sequence/thermometer.Filter.believe": true, "sequence/thermometer.Filter.nothing": true,
	"sequence/thermometer.resetSays": true, "sequence/thermometer.zeroesSay": true,
	// patterns, for files
	"sequence/densities.titleTail": true, "sequence/notebook.indexHead": true,
	// a word of the trade in two words
	"sequence.Plan.Next": true, "sequence.Vessel.In": true,
}

// prose is two words of lower case, one after the other, as no code and no key has them.
var prose = regexp.MustCompile(`\b[a-z]{2,} [a-z]{2,}\b`)

func TestNoSentencesBelowSay(t *testing.T) {
	found := map[string]string{}
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, module)
		if !slices.Contains(wordless, name) {
			continue
		}
		for _, file := range p.GoFiles {
			for decl, text := range sentences(t, filepath.Join(p.Dir, file)) {
				found[name+"."+decl] = text
			}
		}
	}
	for _, where := range slices.Sorted(maps.Keys(found)) {
		if !stillWords[where] {
			t.Errorf("%s makes words: %q; give tui/say a code and its values", where, found[where])
		}
	}
	for where := range stillWords {
		if found[where] == "" {
			t.Errorf("%s makes no words any more: take it off the list", where)
		}
	}
}

// sentences are the first sentence of each declaration of a file that makes any, outside
// its errors.
func sentences(t *testing.T, path string) map[string]string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for _, d := range f.Decls {
		for _, part := range declared(d) {
			ast.Inspect(part.node, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.Field:
					return n.Tag == nil
				case *ast.CallExpr:
					return !makesError(n)
				case *ast.BasicLit:
					if text, err := strconv.Unquote(n.Value); n.Kind == token.STRING && err == nil && prose.MatchString(text) && found[part.name] == "" {
						found[part.name] = text
					}
				}
				return true
			})
		}
	}
	return found
}

type namedNode struct {
	name string
	node ast.Node
}

// declared is a declaration in its named parts; a method has its type before its name.
func declared(d ast.Decl) []namedNode {
	if f, ok := d.(*ast.FuncDecl); ok {
		name := f.Name.Name
		if f.Recv != nil {
			of := f.Recv.List[0].Type
			if star, ok := of.(*ast.StarExpr); ok {
				of = star.X
			}
			if id, ok := of.(*ast.Ident); ok {
				name = id.Name + "." + name
			}
		}
		if strings.HasSuffix(name, ".Error") {
			return nil
		}
		return []namedNode{{name, f}}
	}
	var list []namedNode
	if g, ok := d.(*ast.GenDecl); ok {
		for _, spec := range g.Specs {
			if v, ok := spec.(*ast.ValueSpec); ok {
				list = append(list, namedNode{v.Names[0].Name, v})
			}
		}
	}
	return list
}

// makesError reports whether a call's texts are an error's.
func makesError(c *ast.CallExpr) bool {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name == "panic"
	case *ast.SelectorExpr:
		x, ok := f.X.(*ast.Ident)
		return ok && (x.Name == "fmt" && f.Sel.Name == "Errorf" || x.Name == "errors" && f.Sel.Name == "New")
	}
	return false
}

// The search finds what it is for, and lets errors be.
func TestSentencesAreFound(t *testing.T) {
	got := sentences(t, filepath.Join("testdata", "sentences.txt"))
	want := map[string]string{"Text": "the bath is warm", "Bath.Text": "%s of the bath", "notes": "keep it cold"}
	if !maps.Equal(got, want) {
		t.Errorf("found %q; want %q", got, want)
	}
}
