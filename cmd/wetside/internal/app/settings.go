package app

// The person's settings: read once, and added to what was typed.

import (
	"strconv"

	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
	"example.org/wetside/tui"
)

// WithSettings adds to the words what the settings say.
func (p *Env) WithSettings(w sequence.RawConditions) sequence.RawConditions {
	w.Units, w.OwnLimit = p.Settings.Habits, p.Settings.OwnWetLimit()
	w.Thermometers = p.Settings.OwnThermometers()
	return w
}

// ReadSettings reads the settings. What is wrong with them is kept for the command.
func (p *Env) ReadSettings() {
	p.Settings, p.SettingsErr = settings.Read(settings.Path(), tui.Taken())
}

// UnitArgs are the flags again, for a command that this program starts.
func (p *Env) UnitArgs() []string {
	h := p.Settings.Habits
	return []string{"--fahrenheit=" + strconv.FormatBool(h.Fahrenheit), "--floz=" + strconv.FormatBool(h.FluidOunces),
		"--ampm=" + strconv.FormatBool(h.TwelveHours)}
}
