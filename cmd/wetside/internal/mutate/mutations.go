package main

// What is changed: comparisons and their limits, arithmetic, logic, numbers, and whole
// statements left out. Each mutation is a stretch of a file's text and what stands there
// instead.

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
)

// mutation is one change to one file.
type mutation struct {
	file     string // from the top of the tree
	line     int
	text     string // of the line, trimmed
	from, to string
	at, end  int // where from stands, in bytes
	nth      int // of several that are alike otherwise, from 1
}

// key names a mutation, wherever its line has moved.
func (m mutation) key() string {
	key := fmt.Sprintf("%s: %s: %s => %s", m.file, m.text, oneLine(m.from), oneLine(m.to))
	if m.nth > 1 {
		key += fmt.Sprintf(" (%d)", m.nth)
	}
	return key
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// operators are what each operator is changed into.
var operators = map[token.Token][]token.Token{
	token.LSS: {token.LEQ}, token.LEQ: {token.LSS}, token.GTR: {token.GEQ}, token.GEQ: {token.GTR},
	token.EQL: {token.NEQ}, token.NEQ: {token.EQL}, token.LAND: {token.LOR}, token.LOR: {token.LAND},
	token.ADD: {token.SUB}, token.SUB: {token.ADD}, token.MUL: {token.QUO}, token.QUO: {token.MUL}, token.REM: {token.MUL},
	token.AND: {token.OR}, token.OR: {token.AND}, token.XOR: {token.AND}, token.SHL: {token.SHR}, token.SHR: {token.SHL},
	token.ADD_ASSIGN: {token.SUB_ASSIGN}, token.SUB_ASSIGN: {token.ADD_ASSIGN}, token.MUL_ASSIGN: {token.QUO_ASSIGN},
	token.QUO_ASSIGN: {token.MUL_ASSIGN}, token.INC: {token.DEC}, token.DEC: {token.INC},
}

// finder collects the mutations of one file.
type finder struct {
	name  string
	src   []byte
	files *token.FileSet
	found []mutation
}

// mutations lists every change to a file, in the order of its text.
func mutations(name string, src []byte) ([]mutation, error) {
	f := finder{name: name, src: src, files: token.NewFileSet()}
	tree, err := parser.ParseFile(f.files, name, src, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	ast.Inspect(tree, f.visit)
	alike := map[string]int{}
	for i := range f.found {
		key := f.found[i].key()
		alike[key]++
		f.found[i].nth = alike[key]
	}
	return f.found, nil
}

func (f *finder) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec, *ast.Field: // types and tags are no behaviour
		return false
	case *ast.BinaryExpr:
		f.operator(n.OpPos, n.Op)
	case *ast.AssignStmt:
		f.operator(n.TokPos, n.Tok)
		if n.Tok == token.ASSIGN {
			f.leaveOut(n)
		}
	case *ast.IncDecStmt:
		f.operator(n.TokPos, n.Tok)
	case *ast.UnaryExpr:
		if n.Op == token.NOT {
			f.add(n.Pos(), n.Pos()+1, "")
		}
	case *ast.IfStmt:
		f.negate(n.Cond)
	case *ast.BasicLit:
		f.number(n)
	case *ast.Ident:
		f.truth(n)
	case *ast.ExprStmt:
		f.leaveOut(n)
	case *ast.BranchStmt:
		f.branch(n)
	case *ast.CallExpr:
		f.limits(n)
	}
	return true
}

func (f *finder) operator(at token.Pos, op token.Token) {
	for _, other := range operators[op] {
		f.add(at, at+token.Pos(len(op.String())), other.String())
	}
}

// negate turns a condition round, where no operator of it does so already.
func (f *finder) negate(cond ast.Expr) {
	switch c := cond.(type) {
	case *ast.UnaryExpr:
		return
	case *ast.BinaryExpr:
		if c.Op == token.EQL || c.Op == token.NEQ {
			return
		}
	}
	f.add(cond.Pos(), cond.End(), "!("+string(f.src[f.offset(cond.Pos()):f.offset(cond.End())])+")")
}

// number makes a number a quarter larger and smaller; small whole ones by one.
func (f *finder) number(n *ast.BasicLit) {
	switch n.Kind {
	case token.INT:
		v, err := strconv.ParseInt(n.Value, 0, 64)
		if err != nil {
			return
		}
		for _, other := range []int64{v + max(1, v/4), v - max(1, v/4)} {
			if other >= 0 {
				f.add(n.Pos(), n.End(), strconv.FormatInt(other, 10))
			}
		}
	case token.FLOAT:
		if v, err := strconv.ParseFloat(n.Value, 64); err == nil && v != 0 {
			f.add(n.Pos(), n.End(), strconv.FormatFloat(v*1.25, 'g', -1, 64))
			f.add(n.Pos(), n.End(), strconv.FormatFloat(v*0.75, 'g', -1, 64))
		}
	}
}

func (f *finder) truth(n *ast.Ident) {
	if other, ok := map[string]string{"true": "false", "false": "true"}[n.Name]; ok {
		f.add(n.Pos(), n.End(), other)
	}
}

// branch goes on where a loop would be left, and the other way round.
func (f *finder) branch(n *ast.BranchStmt) {
	if other, ok := map[token.Token]string{token.BREAK: "continue", token.CONTINUE: "break"}[n.Tok]; ok && n.Label == nil {
		f.add(n.Pos(), n.Pos()+token.Pos(len(n.Tok.String())), other)
	}
}

// limits takes the other of two.
func (f *finder) limits(n *ast.CallExpr) {
	id, ok := n.Fun.(*ast.Ident)
	if !ok || len(n.Args) < 2 {
		return
	}
	if other, ok := map[string]string{"min": "max", "max": "min"}[id.Name]; ok {
		f.add(id.Pos(), id.End(), other)
	}
}

// leaveOut takes a statement away. What it names is still used, so that the rest compiles.
func (f *finder) leaveOut(n ast.Stmt) {
	instead := "{}"
	if a, ok := n.(*ast.AssignStmt); ok {
		for _, side := range a.Rhs {
			instead = "_ = " + string(f.src[f.offset(side.Pos()):f.offset(side.End())])
		}
		if len(a.Rhs) != 1 || len(a.Lhs) != 1 {
			return
		}
		if id, ok := a.Lhs[0].(*ast.Ident); ok && id.Name == "_" {
			return
		}
	}
	f.add(n.Pos(), n.End(), instead)
}

func (f *finder) offset(p token.Pos) int { return f.files.Position(p).Offset }

func (f *finder) add(from, to token.Pos, instead string) {
	at, end := f.offset(from), f.offset(to)
	line := f.files.Position(from).Line
	f.found = append(f.found, mutation{file: f.name, line: line, text: lineAround(f.src, at),
		from: string(f.src[at:end]), to: instead, at: at, end: end})
}

// lineAround is the line of the text in which a byte stands, trimmed.
func lineAround(src []byte, at int) string {
	begin := strings.LastIndexByte(string(src[:at]), '\n') + 1
	line, _, _ := strings.Cut(string(src[begin:]), "\n")
	return strings.TrimSpace(line)
}

// apply is the file's text with the change in it.
func (m mutation) apply(src []byte) []byte {
	changed := append([]byte{}, src[:m.at]...)
	changed = append(changed, m.to...)
	return append(changed, src[m.end:]...)
}
