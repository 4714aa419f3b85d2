package chem

import (
	"testing"
	"time"
)

// A shutter's fractions are read beside every other time.
func TestParseExposure(t *testing.T) {
	for text, expected := range map[string]time.Duration{
		"1/2s": 500 * time.Millisecond, "1/125": 8 * time.Millisecond, " 1/2 s": 500 * time.Millisecond, "4s": 4 * time.Second, "1m30s": 90 * time.Second,
	} {
		if got, err := ParseExposure(text); err != nil || got != expected {
			t.Errorf("%q: %v, %v; expected %v", text, got, err, expected)
		}
	}
	for _, text := range []string{"1/0", "1/", "/2", "1/2/3", "1/2m", "-1/2s", "4", ""} {
		if got, err := ParseExposure(text); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}
