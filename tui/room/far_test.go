package room

import "testing"

// The variables are those of ssh(1).
func TestOverSSH(t *testing.T) {
	for name, want := range map[string]bool{"SSH_CONNECTION": true, "SSH_TTY": true, "SSH_AUTH_SOCK": false, "TERM": false} {
		got := OverSSH(func(asked string) string {
			if asked == name {
				return "192.0.2.7 49152 192.0.2.9 22"
			}
			return ""
		})
		if got != want {
			t.Errorf("%s alone: %v", name, got)
		}
	}
}
