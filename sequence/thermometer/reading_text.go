// Package thermometer reads a thermometer that is a file: what a kernel's 1-wire or
// hwmon driver shows, or a file that anything else writes a number into.
//
// For cmd, which reads the file once a second of process time and passes on what
// a Filter lets through. The package opens nothing and keeps no time: Parse turns
// text into degrees, a Filter tells readings from dropouts and spikes.
package thermometer

// What a thermometer's file says.

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/wetside/chem"
)

// thousandths is the number from which a reading is taken as thousandths of a
// degree, as the kernel's sensors write them.
const thousandths = 200

// Parse reads a sensor's text: degrees Celsius, or thousandths of a degree where
// the number is over 200 either way. A kernel's 1-wire file, which ends in
// "t=21562", is read too.
func Parse(text string) (chem.Celsius, error) {
	text = strings.TrimSpace(text)
	if i := strings.LastIndex(text, "t="); i >= 0 {
		if strings.Contains(text, "crc") && !strings.Contains(text, "YES") {
			return 0, fmt.Errorf("the sensor's checksum is wrong")
		}
		text = text[i+2:]
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%q is no temperature; expected a number", clip(text))
	}
	if math.Abs(x) > thousandths {
		x /= 1000
	}
	return chem.Celsius(x), nil
}

func clip(s string) string {
	if r := []rune(s); len(r) > 20 {
		return string(r[:20]) + "…"
	}
	return s
}
