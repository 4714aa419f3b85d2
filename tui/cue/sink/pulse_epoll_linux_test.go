package sink

import (
	"bytes"
	"errors"
	"io"
	"net"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// joined are both ends of a connection, ours taken out of Go's poller.
func joined(t *testing.T) (ours *epollConn, theirs net.Conn) {
	t.Helper()
	door, err := net.Listen("unix", filepath.Join(t.TempDir(), "native"))
	if err != nil {
		t.Fatal(err)
	}
	defer door.Close()
	conn, err := net.Dial("unix", door.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	if theirs, err = door.Accept(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { theirs.Close() })
	ours, ok := readOnlyPolled(conn).(*epollConn)
	if !ok {
		t.Fatal("the connection was left as it was")
	}
	return ours, theirs
}

// What is said goes both ways, in whatever portions, to the end of it.
func TestInboundReadsAndWrites(t *testing.T) {
	ours, theirs := joined(t)
	defer ours.Close()
	much := bytes.Repeat([]byte("the tide is in "), 100_000) // more than a socket holds
	go func() {
		io.Copy(theirs, io.LimitReader(theirs, int64(len(much))))
		theirs.Close()
	}()
	ours.SetWriteDeadline(time.Now().Add(time.Minute))
	wrote := make(chan error, 1)
	go func() {
		_, err := ours.Write(much)
		wrote <- err
	}()
	got, err := io.ReadAll(ours)
	if err != nil || !bytes.Equal(got, much) {
		t.Errorf("%d of %d bytes came back: %v", len(got), len(much), err)
	}
	if err := <-wrote; err != nil {
		t.Error(err)
	}
}

// A server that takes nothing holds a Write up until its time is over, and no longer.
func TestInboundGivesUpWriting(t *testing.T) {
	ours, _ := joined(t)
	defer ours.Close()
	ours.SetWriteDeadline(time.Now().Add(20 * time.Millisecond))
	n, err := ours.Write(make([]byte, 10_000_000))
	if !errors.Is(err, os.ErrDeadlineExceeded) || n == 0 || n == 10_000_000 {
		t.Errorf("%d bytes, %v; expected some, and that time is over", n, err)
	}
}

// Close ends a Read that waits; after it nothing is read, written or closed again.
func TestInboundCloses(t *testing.T) {
	ours, theirs := joined(t)
	read := make(chan error, 1)
	go func() {
		_, err := ours.Read(make([]byte, 10))
		read <- err
	}()
	if err := ours.Close(); err != nil {
		t.Error(err)
	}
	if err := <-read; err == nil {
		t.Error("read from a closed connection")
	}
	if _, err := ours.Write([]byte("tern")); !errors.Is(err, net.ErrClosed) {
		t.Errorf("writing: %v", err)
	}
	if err := ours.Close(); !errors.Is(err, net.ErrClosed) {
		t.Errorf("closing again: %v", err)
	}
	if n, err := theirs.Read(make([]byte, 10)); err != io.EOF {
		t.Errorf("the other end has %d bytes, %v; expected the end", n, err)
	}
}
