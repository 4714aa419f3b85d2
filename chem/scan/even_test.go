package scan

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Least squares against gonum's QR decomposition, on surfaces as a panel has them, on all of it and on a narrow edge.
func TestLeastSquaresAgainstQR(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 30))
	l := panelLight{w: 6000, h: 4000}
	for range 50 {
		var rows, right []float64
		wide := 0.1 + 0.9*r.Float64()
		for range 36 + r.IntN(400) {
			terms := l.terms(l.w*wide*r.Float64(), l.h*r.Float64())
			rows, right = append(rows, terms...), append(right, 0.3+0.1*terms[1]-0.2*terms[3]+0.05*terms[4]+0.004*r.NormFloat64())
		}
		var want mat.VecDense
		if err := want.SolveVec(mat.NewDense(len(right), panelOrder, rows), mat.NewVecDense(len(right), right)); err != nil {
			t.Fatal(err)
		}
		got, ok := leastSquares(rows, right)
		for i := range got {
			if w := want.AtVec(i); !ok || math.Abs(got[i]-w) > 1e-9*(1+math.Abs(w)) {
				t.Fatalf("%v; gonum has %v", got, want.RawVector().Data)
			}
		}
	}
	one := l.terms(100, 100)
	if _, ok := leastSquares(append(append(one, one...), one...), []float64{1, 1, 1}); ok {
		t.Error("one place determines a surface")
	}
}
