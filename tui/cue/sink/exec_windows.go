package sink

import "os/exec"

// apart has nothing to do where the programs do not exist.
func apart(*exec.Cmd) {}
