package sequence

import (
	"reflect"
	"testing"
)

// What was chosen is typed again as it was read; the temperatures are not of it.
func TestChosenConditionsAreReadBack(t *testing.T) {
	typed := Words{Temp: "22@5m", Towards: "19", Drift: "45m", Sheets: "4", Vessel: "hangers", Development: "N+1", Factor: "1.25", WetLimit: "17m30s", Clearing: "45s"}
	c, err := typed.Conditions()
	if err != nil {
		t.Fatal(err)
	}
	again, err := c.Chosen().Conditions()
	if err != nil {
		t.Fatal(err)
	}
	c.Temp, c.ReadBefore, c.Towards, c.Drift = nil, 0, nil, 0
	if !reflect.DeepEqual(again, c) {
		t.Errorf("%+v; want %+v", again, c)
	}
	if none := (Conditions{}).Chosen(); none != (Words{}) {
		t.Errorf("of nothing: %+v", none)
	}
	merged := Words{Sheets: "6"}.Or(typed)
	if merged.Sheets != "6" || merged.Factor != "1.25" || merged.Temp != "22@5m" {
		t.Errorf("%+v", merged)
	}
}
