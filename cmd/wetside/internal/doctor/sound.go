package doctor

// wetside ready, what is to be heard and pressed: in the dark there are only ears and
// one finger.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
)

// silence is longer than most loudspeakers take to fall asleep on silence that
// do so within a rest (common practice, no source).
const silence = 20 * time.Second

// What to do about sound.
const (
	soundAdvice = "in the dark you work by ear: connect a loudspeaker, or choose another way with --sound"
	askAdvice   = "run wetside ready on a terminal, with the loudspeaker where it will stand"
)

// checkSound checks the way to the loudspeaker and, where somebody can be asked, what
// comes out of it. It errs where spec is no way out.
func checkSound(p *app.Env, spec string, who *Prompter, show func(...finding)) error {
	if !slices.Contains(settings.SoundOutputs, spec) {
		return app.Usagef("--sound: %q is no way to a loudspeaker; expected %s", spec, strings.Join(settings.SoundOutputs, ", "))
	}
	out, err := running.OpenSound(p, spec, clock.New(p.Clock, 0, 1))
	if err != nil {
		show(finding{"sound", LevelNo, strings.TrimPrefix(err.Error(), "sound: "), soundAdvice})
		return nil
	}
	defer out.Close()
	time.Sleep(running.SinkSettleTime)
	state := out.Sink.State()
	switch {
	case !out.Sink.Sounding():
		show(finding{"sound", LevelNo, strings.TrimPrefix(state, "NO SOUND: "), soundAdvice})
		return nil
	case who == nil:
		show(finding{"sound", LevelOK, strings.TrimPrefix(state, "sound: "), ""},
			finding{"heard", LevelCare, "nobody was asked whether it is heard over running water", askAdvice},
			checkVoice(p, out, nil),
			finding{"quiet", LevelCare, "nobody was asked whether the loudspeaker sleeps on silence", askAdvice})
		return nil
	}
	show(finding{"sound", LevelOK, strings.TrimPrefix(state, "sound: "), ""})
	for _, listen := range []func(*running.Sound, *Prompter) finding{checkOverWater, func(out *running.Sound, who *Prompter) finding { return checkVoice(p, out, who) }, checkAfterSilence} {
		if show(listen(out, who)); who.gone() {
			break
		}
	}
	return nil
}

// checkOverWater plays what asks for the act that must not be missed.
func checkOverWater(out *running.Sound, who *Prompter) finding {
	who.say("Run the tap as it will run, and stand where you will stand. Three sounds come now.")
	for range 3 {
		playCue(out, sequence.CueTransfer)
	}
	return who.judge("Did you hear all three over the water?",
		finding{"heard", LevelOK, "over running water", ""},
		finding{"heard", LevelNo, "not heard over running water", "louder, nearer, or a loudspeaker of its own; then again"})
}

// checkVoice says what is said before a session, the tap still running.
func checkVoice(p *app.Env, out *running.Sound, who *Prompter) finding {
	level := cue.Level(p.Settings.Voice)
	switch {
	case level == cue.Off:
		return finding{"voice", LevelCare, "off in the settings: tones alone, the menu in the dark too", "wetside cues teaches them; or voice = \"sparse\" in " + settings.Path()}
	case who == nil:
		return finding{"voice", LevelCare, "nobody was asked whether words are understood", askAdvice}
	}
	who.say("The tap still running: a few words.")
	words := cue.Loading()
	out.Ear.SayNow(words)
	time.Sleep(words.Length() + running.AfterCue)
	return who.judge("They were: before the first bath, press twice to begin. Did you understand them all?",
		finding{"voice", LevelOK, fmt.Sprintf("understood over running water; set to %s", level), ""},
		finding{"voice", LevelCare, "words are not understood over running water", "louder or nearer; until then rely on the tones, which wetside cues teaches"})
}

// checkAfterSilence plays after a silence: some loudspeakers go to sleep and swallow the
// beginning of what comes next.
func checkAfterSilence(out *running.Sound, who *Prompter) finding {
	who.say(fmt.Sprintf("Now turn the tap off and be still: %d seconds of quiet, then one sound. Any key passes.", int(silence.Seconds())))
	if who.key(silence) != "" {
		return finding{"quiet", LevelCare, "skipped", askAdvice}
	}
	playCue(out, sequence.CueReady)
	return who.judge("Did it come at once and whole, its beginning too? ("+cue.Describe(sequence.CueReady)+")",
		finding{"quiet", LevelOK, fmt.Sprintf("the loudspeaker is awake after %d s of silence", int(silence.Seconds())), ""},
		finding{"quiet", LevelCare, "the loudspeaker sleeps on silence", "one on a wire, or one that stays awake; soft ticks keep some awake in a long rest, not all"})
}

func playCue(out *running.Sound, kind sequence.CueKind) {
	out.Ear.Play(kind)
	time.Sleep(cue.Length(kind) + running.AfterCue)
}

// The times of trying a switch out.
const (
	pressLimit   = 20 * time.Second
	sameGapPress = 600 * time.Millisecond // what comes so soon after belongs to the same press
)

// checkSwitch has the person press the big key.
func checkSwitch(p *app.Env, who *Prompter) finding {
	big := strings.Join(settings.KeyNames(p.Settings.BigKeys), ", ")
	const how = "run wetside ready on a terminal, with the switch plugged in"
	if who == nil {
		return finding{"switch", LevelCare, "not pressed; the big key is " + big, how}
	}
	who.say("Press your switch once, with the hand or foot that will do it.")
	key := who.key(pressLimit)
	if key == "" {
		return finding{"switch", LevelCare, "nothing came; the big key is " + big, how}
	}
	times := 1
	for began := time.Now(); time.Since(began) < sameGapPress && who.key(sameGapPress-time.Since(began)) != ""; {
		times++
	}
	name := settings.KeyNames([]string{key})[0]
	said := fmt.Sprintf("%q came", name)
	if times > 1 {
		said += fmt.Sprintf(" %d times, which counts as one press", times)
	}
	switch {
	case slices.Contains(p.Settings.BigKeys, key):
		return finding{"switch", LevelOK, said + ": it is the big key", ""}
	case slices.Contains(p.Settings.MenuKeys, key):
		return finding{"switch", LevelCare, said + ": it is the second key, not the big one", "press the other, or exchange them in " + settings.Path()}
	}
	return finding{"switch", LevelNo, said + ": it does nothing in the dark", fmt.Sprintf("add it to big under [keys] in %s, or set the switch to one of %s", settings.Path(), big)}
}
