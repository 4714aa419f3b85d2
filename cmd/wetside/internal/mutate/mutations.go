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
	kind     kind
	within   *function // nil outside functions, and in one that cannot be copied
	of       *constant // the constant or variable of the package that it is a part of; else nil
}

// kind is what is told apart in the account.
type kind string

const (
	arithmetic kind = "arithmetic"
	number     kind = "number"
	comparison kind = "comparison"
	logic      kind = "logic"
	statement  kind = "statement"
)

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

func kindOf(op token.Token) kind {
	switch op {
	case token.LSS, token.LEQ, token.GTR, token.GEQ, token.EQL, token.NEQ:
		return comparison
	case token.LAND, token.LOR, token.NOT:
		return logic
	}
	return arithmetic
}

// finder collects the mutations of one file.
type finder struct {
	name   string
	src    []byte
	files  *token.FileSet
	within *function
	of     *constant
	found  []mutation
}

// mutations lists every change to a file, in the order of its text.
func mutations(name string, src []byte) ([]mutation, error) {
	f := finder{name: name, src: src, files: token.NewFileSet()}
	tree, err := parser.ParseFile(f.files, name, src, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	for _, d := range tree.Decls {
		f.within = nil
		switch d := d.(type) {
		case *ast.FuncDecl:
			f.within = f.function(d)
			ast.Inspect(d, f.visit)
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				f.of = f.constant(spec)
				ast.Inspect(spec, f.visit)
			}
			f.of = nil
		}
	}
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
	case *ast.ArrayType:
		return false
	case *ast.ReturnStmt:
		return !besideRefusal(n)
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
			f.add(logic, n.Pos(), n.Pos()+1, "")
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
		return !f.infinity(n)
	}
	return true
}

// besideRefusal is a return of an error, or of false, with values that nobody reads then: they
// are zeros, and the last is a call or says so itself.
func besideRefusal(n *ast.ReturnStmt) bool {
	if len(n.Results) < 2 {
		return false
	}
	switch last := n.Results[len(n.Results)-1].(type) {
	case *ast.CallExpr:
		zero, ok := n.Results[0].(*ast.BasicLit)
		fun, selects := last.Fun.(*ast.SelectorExpr)
		return ok && zero.Value == "0" || selects && (fun.Sel.Name == "Errorf" || fun.Sel.Name == "New")
	case *ast.Ident:
		return last.Name == "err" || last.Name == "false"
	}
	return false
}

func (f *finder) operator(at token.Pos, op token.Token) {
	for _, other := range operators[op] {
		f.add(kindOf(op), at, at+token.Pos(len(op.String())), other.String())
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
	f.add(logic, cond.Pos(), cond.End(), "!("+string(f.src[f.offset(cond.Pos()):f.offset(cond.End())])+")")
}

// infinity gets the other sign: there is none that is larger. Whether a number is infinite is
// asked for either sign, and bits of a number are no amount.
func (f *finder) infinity(n *ast.CallExpr) bool {
	fun, ok := n.Fun.(*ast.SelectorExpr)
	if ok && (fun.Sel.Name == "IsInf" || fun.Sel.Name == "ParseFloat") {
		ast.Inspect(n.Args[0], f.visit)
		return true
	}
	if !ok || fun.Sel.Name != "Inf" || len(n.Args) != 1 {
		return false
	}
	at := n.Args[0]
	f.add(number, at.Pos(), at.End(), "-("+string(f.src[f.offset(at.Pos()):f.offset(at.End())])+")")
	return true
}

// number makes a number a quarter larger and smaller; small whole ones by one, and a power of
// ten that is small enough to be a tolerance a thousandfold.
func (f *finder) number(n *ast.BasicLit) {
	switch n.Kind {
	case token.INT:
		v, err := strconv.ParseInt(n.Value, 0, 64)
		if err != nil {
			return
		}
		for _, other := range []int64{v + max(1, v/4), v - max(1, v/4)} {
			if other >= 0 {
				f.add(number, n.Pos(), n.End(), strconv.FormatInt(other, 10))
			}
		}
	case token.FLOAT:
		v, err := strconv.ParseFloat(n.Value, 64)
		if err != nil || v == 0 {
			return
		}
		more, less := 1.25*v, 0.75*v
		if strings.HasPrefix(n.Value, "1e-") && v <= 1e-6 {
			more, less = 1000*v, v/1000
		}
		f.add(number, n.Pos(), n.End(), strconv.FormatFloat(more, 'g', -1, 64))
		f.add(number, n.Pos(), n.End(), strconv.FormatFloat(less, 'g', -1, 64))
	}
}

func (f *finder) truth(n *ast.Ident) {
	if other, ok := map[string]string{"true": "false", "false": "true"}[n.Name]; ok {
		f.add(logic, n.Pos(), n.End(), other)
	}
}

// branch goes on where a loop would be left, and the other way round.
func (f *finder) branch(n *ast.BranchStmt) {
	if other, ok := map[token.Token]string{token.BREAK: "continue", token.CONTINUE: "break"}[n.Tok]; ok && n.Label == nil {
		f.add(statement, n.Pos(), n.Pos()+token.Pos(len(n.Tok.String())), other)
	}
}

// limits takes the other of two.
func (f *finder) limits(n *ast.CallExpr) {
	id, ok := n.Fun.(*ast.Ident)
	if !ok || len(n.Args) < 2 {
		return
	}
	if other, ok := map[string]string{"min": "max", "max": "min"}[id.Name]; ok {
		f.add(comparison, id.Pos(), id.End(), other)
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
	f.add(statement, n.Pos(), n.End(), instead)
}

func (f *finder) offset(p token.Pos) int { return f.files.Position(p).Offset }

func (f *finder) add(k kind, from, to token.Pos, instead string) {
	at, end := f.offset(from), f.offset(to)
	line := f.files.Position(from).Line
	f.found = append(f.found, mutation{file: f.name, line: line, text: lineAround(f.src, at),
		from: string(f.src[at:end]), to: instead, at: at, end: end, kind: k, within: f.within, of: f.of})
}

// lineAround is the line of the text in which a byte stands, trimmed.
func lineAround(src []byte, at int) string {
	begin := strings.LastIndexByte(string(src[:at]), '\n') + 1
	line, _, _ := strings.Cut(string(src[begin:]), "\n")
	return strings.TrimSpace(line)
}
