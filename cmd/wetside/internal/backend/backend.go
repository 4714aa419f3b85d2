// Package backend is what the screens ask of the world: recipes and bottles read and written,
// sessions begun and taken up, light and sound.
//
// Start with Backend, which satisfies tui.Backend. Each of its parts answers for one thing, in a
// file of that name, and knows no more than it needs for that. It decides nothing about a
// session and draws nothing.
package backend

import (
	"os"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/help"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/tui"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/room"
)

// Backend is all parts together: a screen takes of it what it asks for.
type Backend struct {
	recipeFiles
	bottleLedger
	densityReadings
	exposedSheets
	pastSessions
	filmTests
	guides
	*Loudspeaker
	*SessionRunner
	*Editor
}

var _ tui.Backend = Backend{}

// guides are those of wetside help.
type guides struct{}

// Guide is the text of a topic.
func (guides) Guide(topic string) (string, error) { return help.Guide(topic) }

// New makes the screens' terminal as dark as the guard is, and begins to look for sound.
func New(p *app.Env, o ScreenOptions, pipe *supervisor.Pipe, guard *light.Guard) Backend {
	speaker := NewLoudspeaker(p, o.SoundOptions)
	sessions := &SessionRunner{Env: p, loudspeaker: speaker, thermometer: o.Thermometer, pipe: pipe, guard: guard,
		backlight: room.NewBacklight(app.LampsFolder, pipe.DarkLamps, pipe.Lamps), HandedOver: make(chan struct{})}
	sessions.backlight.Dark(guard.Light() == light.Dark)
	sessions.findAround()
	recipes := recipeFiles{p}
	go speaker.tryAwhile()
	return Backend{recipes, bottleLedger{p}, densityReadings{p}, exposedSheets{p}, pastSessions{p}, filmTests{}, guides{}, speaker, sessions,
		&Editor{recipes: recipes, guard: guard, Keys: &Keyboard{In: os.Stdin}, carriesOut: sessions.carriesOut}}
}

// Close ends what is still going on.
func (b Backend) Close() { b.SessionRunner.end() }
