package room

import (
	"strings"
	"testing"

	"example.org/wetside/tui/room/peer"
)

func TestAsk(t *testing.T) {
	bus := peer.Start(t)
	if f := Ask(); !strings.HasPrefix(f.Why, "logind: ") {
		t.Errorf("nobody on the bus: %+v", f)
	}
	bus.Logind()
	if f := Ask(); f != (Facts{Idle: "ignore"}) {
		t.Errorf("as the template has it: %+v", f)
	}
	bus.Property("HandleLidSwitch", "suspend")
	bus.Property("LidClosed", true)
	bus.Property("OnExternalPower", false)
	if f := Ask(); f != (Facts{Idle: "ignore", Lid: "suspend", Shut: true, Mains: "no"}) {
		t.Errorf("%+v", f)
	}
	nobody(t)
	if f := Ask(); !strings.HasPrefix(f.Why, "no system bus: ") {
		t.Errorf("no bus: %+v", f)
	}
}
