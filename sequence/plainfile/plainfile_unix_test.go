//go:build unix

package plainfile

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// within wants an answer soon.
func within(t *testing.T, limit time.Duration, what string, f func()) {
	t.Helper()
	began, done := time.Now(), make(chan struct{})
	go func() {
		defer close(done)
		f()
	}()
	select {
	case <-done:
	case <-time.After(10 * limit): // the machine may be busy; a read that waits never comes
		t.Fatalf("%s: no answer after %v", what, time.Since(began))
	}
}

func fifo(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip(err)
	}
	return path
}

func TestAPipeThatNobodyWrites(t *testing.T) {
	path := fifo(t)
	within(t, 2*time.Second, "no writer", func() {
		if data, err := Read(path, 100); err == nil {
			t.Errorf("%q; expected an error", data)
		}
		if _, _, err := ReadRegular(path, 100); err == nil || !strings.Contains(err.Error(), "a pipe") {
			t.Errorf("%v; expected it to be called a pipe", err)
		}
	})
}

func TestAPipeWhoseWriterSaysNothing(t *testing.T) {
	path := fifo(t)
	w, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	within(t, 2*time.Second, "a mute writer", func() {
		if _, err := Read(path, 100); err == nil {
			t.Error("no error")
		}
	})
}

// What a shell hands over as <(command) is read as a file is.
func TestAPipeThatIsWritten(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	go func() {
		fmt.Fprint(w, "20\n")
		w.Close()
	}()
	if data, err := Read(fmt.Sprintf("/dev/fd/%d", r.Fd()), 100); err != nil || string(data) != "20\n" {
		t.Errorf("%q, %v", data, err)
	}
}

func TestLargeFilesAreRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "file")
	for size, good := range map[int]bool{0: true, 1024: true, 1025: false} {
		if err := os.WriteFile(path, make([]byte, size), 0o600); err != nil {
			t.Fatal(err)
		}
		var large *TooLargeError
		data, err := Read(path, 1024)
		regular, _, errRegular := ReadRegular(path, 1024)
		if good && (err != nil || errRegular != nil || len(data) != size || len(regular) != size) {
			t.Errorf("%d bytes: %v, %v", size, err, errRegular)
		}
		if !good && (!errors.As(err, &large) || !errors.As(errRegular, &large)) {
			t.Errorf("%d bytes: %v, %v; expected it to be too large", size, err, errRegular)
		}
	}
	within(t, 2*time.Second, "a device without an end", func() {
		if _, err := Read("/dev/zero", 1024); err == nil {
			t.Error("/dev/zero was read")
		}
	})
}
