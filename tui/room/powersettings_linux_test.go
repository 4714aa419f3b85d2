package room

import (
	"strings"
	"testing"

	"example.org/wetside/tui/room/bustest"
)

func TestAsk(t *testing.T) {
	bus := bustest.Start(t)
	if f := ReadPowerSettings(); !strings.HasPrefix(f.Problem, "logind: ") {
		t.Errorf("nobody on the bus: %+v", f)
	}
	bus.Logind()
	if f := ReadPowerSettings(); f != (PowerSettings{Idle: "ignore"}) {
		t.Errorf("as the template has it: %+v", f)
	}
	bus.Property("HandleLidSwitch", "suspend")
	bus.Property("LidClosed", true)
	bus.Property("OnExternalPower", false)
	if f := ReadPowerSettings(); f != (PowerSettings{Idle: "ignore", Lid: "suspend", LidClosed: true, OnMains: "no"}) {
		t.Errorf("%+v", f)
	}
	nobody(t)
	if f := ReadPowerSettings(); !strings.HasPrefix(f.Problem, "no system bus: ") {
		t.Errorf("no bus: %+v", f)
	}
}
