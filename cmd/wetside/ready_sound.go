package main

// wetside ready, what is to be heard and pressed: in the dark there are only ears and
// one finger.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
)

// quietFor is longer than most loudspeakers take to fall asleep on silence that
// do so within a rest (common practice, no source).
const quietFor = 20 * time.Second

// What to do about sound.
const (
	ears    = "in the dark there are only ears: connect a loudspeaker, or choose another way with --sound"
	unheard = "run wetside ready on a terminal, with the loudspeaker where it will stand"
)

// soundReady checks the way to the loudspeaker and, where somebody can be asked, what
// comes out of it. It errs where spec is no way out.
func (p *program) soundReady(spec string, who *person, show func(...finding)) error {
	if !slices.Contains(settings.Outs, spec) {
		return usage("--sound: %q is no way to a loudspeaker; expected %s", spec, strings.Join(settings.Outs, ", "))
	}
	out, err := p.openSound(spec, clock.New(p.source, 0, 1))
	if err != nil {
		show(found("sound", no, strings.TrimPrefix(err.Error(), "sound: "), ears))
		return nil
	}
	defer out.close()
	time.Sleep(settling)
	state := out.sink.State()
	switch {
	case !out.sink.Sounding():
		show(found("sound", no, strings.TrimPrefix(state, "NO SOUND: "), ears))
		return nil
	case who == nil:
		show(found("sound", ok, strings.TrimPrefix(state, "sound: "), ""),
			found("heard", care, "nobody was asked whether it is heard over running water", unheard),
			p.voiceReady(out, nil),
			found("quiet", care, "nobody was asked whether the loudspeaker sleeps on silence", unheard))
		return nil
	}
	show(found("sound", ok, strings.TrimPrefix(state, "sound: "), ""))
	for _, listen := range []func(*sound, *person) finding{overWater, p.voiceReady, afterQuiet} {
		if show(listen(out, who)); who.gone() {
			break
		}
	}
	return nil
}

// overWater plays what asks for the act that must not be missed.
func overWater(out *sound, who *person) finding {
	who.say("Run the tap as it will run, and stand where you will stand. Three sounds come now.")
	for range 3 {
		playing(out, sequence.CueMove)
	}
	heard, answered := who.yes("Did you hear all three over the water?")
	switch {
	case !answered:
		return found("heard", care, "not answered", unheard)
	case !heard:
		return found("heard", no, "not heard over running water", "louder, nearer, or a loudspeaker of its own; then again")
	}
	return found("heard", ok, "over running water", "")
}

// voiceReady says what is said before a session, the tap still running.
func (p *program) voiceReady(out *sound, who *person) finding {
	level := cue.Level(p.settings.Voice)
	switch {
	case level == cue.Off:
		return found("voice", care, "off in the settings: tones alone, the menu in the dark too", "wetside cues teaches them; or voice = \"sparse\" in "+settings.Path())
	case who == nil:
		return found("voice", care, "nobody was asked whether words are understood", unheard)
	}
	who.say("The tap still running: a few words.")
	words := cue.Loading()
	out.ear.Utter(words)
	time.Sleep(words.Length() + between)
	understood, answered := who.yes("They were: before the first bath, press twice to begin. Did you understand them all?")
	switch {
	case !answered:
		return found("voice", care, "not answered", unheard)
	case !understood:
		return found("voice", care, "words are not understood over running water", "louder or nearer; until then rely on the tones, which wetside cues teaches")
	}
	return found("voice", ok, fmt.Sprintf("understood over running water; set to %s", level), "")
}

// afterQuiet plays after a silence: some loudspeakers go to sleep and swallow the
// beginning of what comes next.
func afterQuiet(out *sound, who *person) finding {
	who.say(fmt.Sprintf("Now turn the tap off and be still: %d seconds of quiet, then one sound. Any key passes.", int(quietFor.Seconds())))
	if who.key(quietFor) != "" {
		return found("quiet", care, "passed over", unheard)
	}
	playing(out, sequence.CueReady)
	whole, answered := who.yes("Did it come at once and whole, its beginning too? (" + cue.Describe(sequence.CueReady) + ")")
	switch {
	case !answered:
		return found("quiet", care, "not answered", unheard)
	case !whole:
		return found("quiet", care, "the loudspeaker sleeps on silence", "one on a wire, or one that stays awake; soft ticks keep some awake in a long rest, not all")
	}
	return found("quiet", ok, fmt.Sprintf("the loudspeaker is awake after %d s of silence", int(quietFor.Seconds())), "")
}

func playing(out *sound, kind sequence.CueKind) {
	out.ear.Play(kind)
	time.Sleep(cue.Length(kind) + between)
}

// The times of trying a switch out.
const (
	pressTime = 20 * time.Second
	ringing   = 600 * time.Millisecond // what comes so soon after belongs to the same press
)

// switchReady has the person press the big key.
func (p *program) switchReady(who *person) finding {
	big := strings.Join(settings.Names(p.settings.Big), ", ")
	const how = "run wetside ready on a terminal, with the switch plugged in"
	if who == nil {
		return found("switch", care, "not pressed; the big key is "+big, how)
	}
	who.say("Press your switch once, with the hand or foot that will do it.")
	key := who.key(pressTime)
	if key == "" {
		return found("switch", care, "nothing came; the big key is "+big, how)
	}
	times := 1
	for began := time.Now(); time.Since(began) < ringing && who.key(ringing-time.Since(began)) != ""; {
		times++
	}
	name := settings.Names([]string{key})[0]
	said := fmt.Sprintf("%q came", name)
	if times > 1 {
		said += fmt.Sprintf(" %d times, which counts as one press", times)
	}
	switch {
	case slices.Contains(p.settings.Big, key):
		return found("switch", ok, said+": it is the big key", "")
	case slices.Contains(p.settings.Menu, key):
		return found("switch", care, said+": it is the second key, not the big one", "press the other, or exchange them in "+settings.Path())
	}
	return found("switch", no, said+": it does nothing in the dark", fmt.Sprintf("add it to big under [keys] in %s, or set the switch to one of %s", settings.Path(), big))
}
