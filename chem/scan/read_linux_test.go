package scan

import (
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

// BenchmarkRead: pictures of 20 million pixels, from a file to densities; also the processor's time,
// which another's work on the machine does not change.
func BenchmarkRead(b *testing.B) {
	outside(b)
	tablet := make([]float64, 21)
	for i := range tablet {
		tablet[i] = 0.05 + 0.15*float64(i)
	}
	for _, kind := range []string{"tiff16", "png16", "jpeg"} {
		b.Run(kind, func(b *testing.B) {
			folder := b.TempDir()
			if out, err := exec.Command(python, "testdata/pictures.py", folder, "p", kind, "width=5000", "height=4000").CombinedOutput(); err != nil {
				b.Fatalf("%v\n%s", err, out)
			}
			files, _ := filepath.Glob(filepath.Join(folder, "p.[tpj][^s]*"))
			data, err := os.ReadFile(files[0])
			if err != nil {
				b.Fatal(err)
			}
			b.ReportAllocs()
			before := processorTime(b)
			for b.Loop() {
				p, err := Decode(fileOf(data))
				if err != nil {
					b.Fatal(err)
				}
				if _, err := Read(p, Options{Tablet: tablet}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric((processorTime(b)-before)/float64(b.N), "cpu-s/op")
		})
	}
}

// processorTime is what this process has used, in seconds.
func processorTime(b *testing.B) float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}
