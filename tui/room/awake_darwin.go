package room

// macOS: caffeinate(8) keeps the computer awake while it runs, and ends with us. It
// cannot keep a closed lid from sending it to sleep. Built, never run.

import (
	"context"
	"os"
	"os/exec"
	"strconv"
	"time"
)

const retryEvery = 30 * time.Second

func (a *Awake) run(ctx context.Context) {
	for {
		cmd := exec.CommandContext(ctx, "caffeinate", "-i", "-s", "-w", strconv.Itoa(os.Getpid()))
		err := cmd.Start()
		if err == nil {
			a.report("blocked (caffeinate), but not for the lid: leave it open", true)
			err = cmd.Wait()
		}
		if ctx.Err() == nil {
			why := "caffeinate has ended"
			if err != nil {
				why = err.Error()
			}
			a.reportUnblocked(why)
		}
		if !pause(ctx, retryEvery) {
			return
		}
	}
}
