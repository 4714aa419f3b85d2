package journal

// How long appending and reading take.

import (
	"slices"
	"testing"
	"time"
)

func BenchmarkAppend(b *testing.B) {
	w := write(b, newStore(b, 1), 1)
	var took []time.Duration
	b.ResetTimer()
	for i := 1; b.Loop(); i++ {
		start := time.Now()
		if err := w.Append(record(i)); err != nil {
			b.Fatal(err)
		}
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds()), "us-p50")
	b.ReportMetric(float64(took[len(took)*99/100].Microseconds()), "us-p99")
}

func BenchmarkRead1000(b *testing.B)  { benchmarkRead(b, 1000) }
func BenchmarkRead10000(b *testing.B) { benchmarkRead(b, 10000) }

func benchmarkRead(b *testing.B, n int) {
	data := text(b, n)
	for b.Loop() {
		s, err := parse("x.jsonl", data)
		if err != nil || len(s.Records) != n {
			b.Fatal(len(s.Records), err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/read")
}
