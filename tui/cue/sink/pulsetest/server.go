//go:build unix

package pulsetest

// Servers: how each kind is started, told things, and ended.

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Sinks are the names of the null sinks of every server; the first is the default.
var Sinks = []string{"cues", "loop"}

// Server is one server with its folder.
type Server struct {
	t       testing.TB
	dir     string
	command []string // brings it up, with all that belongs to it
	prepare func()   // once it answers; nil for nothing
	process *exec.Cmd
}

// PulseAudio is a PulseAudio server that has not been started yet.
func PulseAudio(t testing.TB) *Server {
	t.Helper()
	s := newServer(t)
	var script strings.Builder
	fmt.Fprintf(&script, "load-module module-native-protocol-unix socket=%s auth-anonymous=1\n", s.socket())
	for _, name := range Sinks {
		fmt.Fprintln(&script, "load-module", strings.Join(nullSink(name), " "))
	}
	fmt.Fprintln(&script, "set-default-sink", Sinks[0])
	file := s.write("test.pa", script.String())
	s.command = []string{"pulseaudio", "-n", "-F", file, "--daemonize=no", "--system=false",
		"--exit-idle-time=-1", "--disallow-exit=yes", "--use-pid-file=no", "--high-priority=no", "--realtime=no"}
	return s
}

// nullSink is the module with its arguments; without norewinds a monitor is delayed.
func nullSink(name string) []string {
	return []string{"module-null-sink", "sink_name=" + name, "rate=44100", "channels=2", "format=s16le", "norewinds=1"}
}

// bluetooth is where the session manager looks for settings of that.
var bluetooth = filepath.Join("wireplumber", "bluetooth.lua.d")

// PipeWire is a PipeWire server with its session manager and its PulseAudio front,
// on a bus of its own, not started yet.
func PipeWire(t testing.TB) *Server {
	t.Helper()
	s := newServer(t)
	if err := os.MkdirAll(filepath.Join(s.dir, bluetooth), 0o700); err != nil {
		t.Fatal(err)
	}
	s.write(filepath.Join(bluetooth, "51-none.lua"), "bluez_monitor.enabled = false\n") // or the manager ends where no logind runs
	script := s.write("up.sh", "pipewire & until [ -S \"$XDG_RUNTIME_DIR/pipewire-0\" ]; do sleep 0.05; done\n"+
		"wireplumber & pipewire-pulse & wait\n")
	s.command = []string{"dbus-run-session", "--", "sh", script}
	s.prepare = func() {
		for _, name := range Sinks {
			s.Control("load-module", "module-null-sink", "sink_name="+name, "rate=44100", "channels=2")
		}
		WaitFor(t, 5*time.Second, "the sinks to be taken up by the session manager", func() bool {
			out, _ := s.Command("pactl", "info").Output()
			return strings.Contains(string(out), "Default Sink: "+Sinks[0]+"\n")
		})
	}
	return s
}

func newServer(t testing.TB) *Server {
	t.Helper()
	if os.Getenv("WETSIDE_E2E") != "1" {
		t.Skip("needs real seconds and a sound server: WETSIDE_E2E=1")
	}
	s := &Server{t: t, dir: t.TempDir()}
	if err := os.MkdirAll(filepath.Dir(s.socket()), 0o700); err != nil {
		t.Fatal(err)
	}
	return s
}

func (s *Server) write(name, text string) string {
	s.t.Helper()
	path := filepath.Join(s.dir, name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		s.t.Fatal(err)
	}
	return path
}

func (s *Server) socket() string { return filepath.Join(s.dir, "pulse", "native") }

// Env is what a program needs in its environment to find the server and nothing else.
func (s *Server) Env() []string {
	return []string{"XDG_RUNTIME_DIR=" + s.dir, "HOME=" + s.dir, "XDG_CONFIG_HOME=" + s.dir, "XDG_STATE_HOME=" + s.dir,
		"PULSE_SERVER=unix:" + s.socket(), "PATH=" + os.Getenv("PATH")}
}

// Getenv looks a name up in Env.
func (s *Server) Getenv(name string) string {
	for _, pair := range s.Env() {
		if value, found := strings.CutPrefix(pair, name+"="); found {
			return value
		}
	}
	return ""
}

// Command is a program whose server is this one.
func (s *Server) Command(name string, args ...string) *exec.Cmd {
	cmd := exec.Command(name, args...)
	cmd.Env = s.Env()
	return cmd
}

// Start brings the server up and returns when it answers. The test's end kills it.
func (s *Server) Start() *Server {
	s.t.Helper()
	s.process = s.Command(s.command[0], s.command[1:]...)
	s.process.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if err := Ahead(s.process.Start); err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(s.Kill)
	WaitFor(s.t, 10*time.Second, "the server to come up", func() bool {
		return s.Command("timeout", "1", "pactl", "info").Run() == nil
	})
	if s.prepare != nil {
		s.prepare()
	}
	return s
}

// Kill ends the server at once, as a crash would.
func (s *Server) Kill() {
	if s.process == nil {
		return
	}
	syscall.Kill(-s.process.Process.Pid, syscall.SIGKILL)
	s.process.Wait()
	s.process = nil
	os.Remove(s.socket())
}

// Freeze makes the server stand still, as a machine out of memory does.
func (s *Server) Freeze() { syscall.Kill(-s.process.Process.Pid, syscall.SIGSTOP) }

// Unfreeze ends a Stop.
func (s *Server) Unfreeze() { syscall.Kill(-s.process.Process.Pid, syscall.SIGCONT) }

// Control has pactl tell the server something.
func (s *Server) Control(args ...string) {
	s.t.Helper()
	if out, err := s.Command("pactl", args...).CombinedOutput(); err != nil {
		s.t.Fatalf("pactl %v: %v: %s", args, err, out)
	}
}

// SinkInput is the number of the only stream that plays.
func (s *Server) SinkInput() string {
	s.t.Helper()
	out, err := s.Command("pactl", "list", "short", "sink-inputs").Output()
	number, _, found := strings.Cut(string(out), "\t")
	if err != nil || !found {
		s.t.Fatalf("sink inputs %q: %v", out, err)
	}
	return number
}

// RemoveSinks takes all sinks away, as pulling out a plug does.
func (s *Server) RemoveSinks() {
	s.t.Helper()
	s.Control("unload-module", "module-null-sink")
}

// AddSinks brings back what RemoveSinks took away.
func (s *Server) AddSinks() {
	s.t.Helper()
	for _, name := range Sinks {
		s.Control(append([]string{"load-module"}, nullSink(name)...)...)
	}
	s.Control("set-default-sink", Sinks[0])
}

// ScaledLimit is a limit of real time as a test should hold it: as it is in the full run,
// which wants the machine for itself, and else ten times as long.
func ScaledLimit(limit time.Duration) time.Duration {
	if os.Getenv("WETSIDE_FULL") == "1" {
		return limit
	}
	return 10 * limit
}

// WaitFor waits until something has come, with Patience, and tells how long it took.
func WaitFor(t testing.TB, limit time.Duration, what string, come func() bool) time.Duration {
	t.Helper()
	limit = ScaledLimit(limit)
	for began := time.Now(); time.Since(began) < limit; time.Sleep(5 * time.Millisecond) {
		if come() {
			return time.Since(began)
		}
	}
	t.Fatalf("waited %v for %s", limit, what)
	return 0
}
