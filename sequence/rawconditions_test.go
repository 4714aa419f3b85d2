package sequence

import (
	"reflect"
	"testing"
)

// What was chosen is typed again as it was read; the temperatures are not of it.
func TestChosenConditionsAreReadBack(t *testing.T) {
	typed := RawConditions{Temp: "22@5m", SettlesAt: "19", TimeConstant: "45m", Sheets: "4", Vessel: "hangers", Development: "N+1", Factor: "1.25", WetLimit: "17m30s", Clearing: "45s"}
	c, err := typed.Conditions()
	if err != nil {
		t.Fatal(err)
	}
	again, err := c.Retyped().Conditions()
	if err != nil {
		t.Fatal(err)
	}
	c.BathTemperature, c.ReadBefore, c.SettlesAt, c.TimeConstant = nil, 0, nil, 0
	if !reflect.DeepEqual(again, c) {
		t.Errorf("%+v; want %+v", again, c)
	}
	if none := (Conditions{}).Retyped(); none != (RawConditions{}) {
		t.Errorf("of nothing: %+v", none)
	}
	merged := RawConditions{Sheets: "6"}.Or(typed)
	if merged.Sheets != "6" || merged.Factor != "1.25" || merged.Temp != "22@5m" {
		t.Errorf("%+v", merged)
	}
}
