package sequence

import (
	"testing"
	"time"
)

// What is absent is null for a script and stays as it is in a record.
func TestAbsentIsNullInReports(t *testing.T) {
	v := struct {
		Text   string     `json:"text"`
		Vessel Vessel     `json:"vessel"`
		Out    Elapsed    `json:"out_s"`
		At     time.Time  `json:"at"`
		None   *time.Time `json:"none"`
		Took   Elapsed    `json:"took_s"`
		List   []string   `json:"list"`
		N      int        `json:"n"`
	}{Out: Never, Took: 90 * time.Second, List: []string{"a", ""}}
	got, err := MarshalReport(v)
	if want := `{"text":null,"vessel":null,"out_s":null,"at":null,"none":null,"took_s":90,"list":["a",null],"n":0}`; err != nil || string(got) != want {
		t.Errorf("%s, %v; expected %s", got, err, want)
	}
	v.Text, v.Vessel, v.Out, v.At = "x", Tray, 0, time.Date(2026, 11, 25, 19, 12, 3, 4, time.UTC)
	got, err = MarshalReport(v)
	if want := `{"text":"x","vessel":"tray","out_s":0,"at":"2026-11-25T19:12:03Z","none":null,"took_s":90,"list":["a",null],"n":0}`; err != nil || string(got) != want {
		t.Errorf("%s, %v; expected %s", got, err, want)
	}
	if got, err := Marshal(struct {
		Text string `json:"text"`
	}{}); err != nil || string(got) != `{"text":""}` {
		t.Errorf("%s, %v", got, err)
	}
}

// Conditions are read by their names now and by those of records written before.
func TestConditionsOfOlderRecords(t *testing.T) {
	for _, text := range []string{`{"temp_c":24,"settles_at_c":19,"time_constant_s":2700,"sheets":4}`, `{"temp_c":24,"towards_c":19,"drift_s":2700,"sheets":4}`} {
		var c Conditions
		if err := Unmarshal([]byte(text), &c); err != nil || c.SettlesAt == nil || *c.SettlesAt != 19 || c.TimeConstant != 45*time.Minute || c.Sheets != 4 || *c.BathTemperature != 24 {
			t.Errorf("%s: %+v, %v", text, c, err)
		}
		got, err := Marshal(c)
		if want := `{"temp_c":24,"settles_at_c":19,"time_constant_s":2700,"sheets":4}`; err != nil || string(got) != want {
			t.Errorf("%s, %v", got, err)
		}
	}
}
