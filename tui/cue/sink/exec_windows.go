package sink

import "os/exec"

// detach has nothing to do where the programs do not exist.
func detach(*exec.Cmd) {}
