//go:build unix

package sink

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"testing/synctest"
	"time"
)

func TestSilenceIsAHoleInTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out.wav")
	synctest.Test(t, func(t *testing.T) {
		s, err := Open("wav:"+path, &silence{})
		if err != nil {
			t.Fatal(err)
		}
		time.Sleep(10 * time.Minute)
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if want := int64(44 + 600*176400); info.Size() != want {
		t.Errorf("%d bytes, want %d", info.Size(), want)
	}
	if st, ok := info.Sys().(*syscall.Stat_t); ok && st.Blocks*512 > 1<<20 {
		t.Errorf("ten minutes of silence take %d bytes of disk", st.Blocks*512)
	}
}
