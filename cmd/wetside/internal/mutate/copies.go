package main

// Many mutations in one test binary: each is a copy of its function, with the change in it, and
// the function begins by asking which copy to run instead; a constant becomes a variable that
// asks for its value. So a package is compiled once for all of them, and the compiler says which
// are no programs.

import (
	"bytes"
	"fmt"
	"go/ast"
	"slices"
	"strings"
)

// function is one that can have copies.
type function struct {
	id                    int // by which a run tells that it came here
	at, name, body, end   int // in bytes: where it, the rest of its name and its body begin; its end
	receiver, arguments   string
	ownName, typeArgument string
	results               bool
}

// function describes a function of the file, or is nil where a copy could not be called: its
// parameters need names, and init calls itself.
func (f *finder) function(fn *ast.FuncDecl) *function {
	if fn.Body == nil || fn.Recv == nil && fn.Name.Name == "init" {
		return nil
	}
	c := &function{at: f.offset(fn.Pos()), name: f.offset(fn.Name.End()), body: f.offset(fn.Body.Lbrace) + 1, end: f.offset(fn.End()),
		ownName: fn.Name.Name, results: fn.Type.Results != nil}
	if fn.Recv != nil {
		names, ok := named(fn.Recv)
		if !ok {
			return nil
		}
		c.receiver = names[0] + "."
	}
	names, ok := named(fn.Type.Params)
	if !ok {
		return nil
	}
	c.arguments = strings.Join(names, ", ")
	if n := len(fn.Type.Params.List); n > 0 {
		if _, variadic := fn.Type.Params.List[n-1].Type.(*ast.Ellipsis); variadic {
			c.arguments += "..."
		}
	}
	if fn.Type.TypeParams != nil {
		names, _ := named(fn.Type.TypeParams)
		c.typeArgument = "[" + strings.Join(names, ", ") + "]"
	}
	return c
}

func named(fields *ast.FieldList) (names []string, ok bool) {
	for _, field := range fields.List {
		if len(field.Names) == 0 {
			return nil, false
		}
		for _, id := range field.Names {
			if id.Name == "_" {
				return nil, false
			}
			names = append(names, id.Name)
		}
	}
	return names, true
}

// copied is a mutation and the number by which a run asks for it.
type copied struct {
	mutation
	number int
}

// constant is a constant of the package, or a variable, that can be a variable which asks what
// to be.
type constant struct {
	name           string
	typ            string // "" where its value says it
	at, value, end int    // in bytes: its name, its value, the end of that
}

func (f *finder) constant(s ast.Spec) *constant {
	v, ok := s.(*ast.ValueSpec)
	if !ok || len(v.Names) != 1 || len(v.Values) != 1 || v.Names[0].Name == "_" {
		return nil
	}
	c := &constant{name: v.Names[0].Name, at: f.offset(v.Names[0].Pos()), value: f.offset(v.Values[0].Pos()), end: f.offset(v.Values[0].End())}
	if v.Type != nil {
		c.typ = string(f.src[f.offset(v.Type.Pos()):f.offset(v.Type.End())])
	}
	return c
}

func (k *constant) typed() string {
	if k.typ == "" {
		return ""
	}
	return "[" + k.typ + "]"
}

// withCopies is a file's text with mutations of its functions and constants in it. The
// compiler's errors name a copy of a function by its number, a constant by its name.
func withCopies(src []byte, all []copied) []byte {
	asks, values, behind := map[*function]string{}, map[*constant][2]string{}, &bytes.Buffer{}
	type edit struct {
		at, end int
		text    string
	}
	var edits []edit
	for _, c := range all {
		if fn := c.within; fn != nil {
			if asks[fn] == "" {
				asks[fn] = fmt.Sprintf("switch mutantAsked { case -1: mutantReached(%d);", fn.id)
			}
			call := fmt.Sprintf("%s%s_mutant%d%s(%s)", fn.receiver, fn.ownName, c.number, fn.typeArgument, fn.arguments)
			if fn.results {
				call = "return " + call
			} else {
				call += "; return"
			}
			asks[fn] += fmt.Sprintf(" case %d: %s;", c.number, call)
			fmt.Fprintf(behind, "\n//line mutant%d:1\n%s_mutant%d%s%s%s\n", c.number,
				src[fn.at:fn.name], c.number, src[fn.name:c.at], c.to, src[c.end:fn.end])
		} else if k := c.of; k != nil {
			v := values[k]
			values[k] = [2]string{v[0] + fmt.Sprintf("%d,", c.number), v[1] + fmt.Sprintf(", %s%s%s", src[k.value:c.at], c.to, src[c.end:k.end])}
		}
	}
	for fn, text := range asks {
		edits = append(edits, edit{fn.body, fn.body, text + " };"})
	}
	for k, v := range values {
		edits = append(edits, edit{k.at, k.at + len(k.name), "_"})
		fmt.Fprintf(behind, "\n//line %s:1\nvar %s %s = mutantOf%s([]int{%s}, %s%s)\n", k.name, k.name, k.typ, k.typed(), v[0], src[k.value:k.end], v[1])
	}
	slices.SortFunc(edits, func(a, b edit) int { return a.at - b.at })
	var text bytes.Buffer
	from := 0
	for _, e := range edits {
		text.Write(src[from:e.at])
		text.WriteString(e.text)
		from = e.end
	}
	text.Write(src[from:])
	text.Write(behind.Bytes())
	return text.Bytes()
}

// asking is the file that every package with copies gets beside its own.
const asking = `package %s

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"sync"
)

var (
	mutantAsked, _ = strconv.Atoi(os.Getenv("MUTANT"))
	mutantSeen     sync.Map
)

// mutantOf is the value whose number was asked for, or the first.
func mutantOf[T any](numbers []int, values ...T) T {
	return values[slices.Index(numbers, mutantAsked)+1]
}

// mutantReached tells once that a function was called.
func mutantReached(function int) {
	if _, known := mutantSeen.LoadOrStore(function, true); known {
		return
	}
	if f, err := os.OpenFile(os.Getenv("MUTANT_REACHED"), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600); err == nil {
		fmt.Fprintln(f, function)
		f.Close()
	}
}
`

// whole is the file's text with the change in it, for what stands outside functions.
func (m mutation) whole(src []byte) []byte {
	return bytes.Join([][]byte{src[:m.at], []byte(m.to), src[m.end:]}, nil)
}
