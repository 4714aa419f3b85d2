#!/usr/bin/python3
"""Measures how well the rendered phrases are understood by a machine that has
nothing to do with them: pocketsphinx with its own English model. First each
phrase that is ever said alone, chosen among all phrases; then sentences joined
as wetside joins them, against a grammar of all such sentences with all numbers
that may stand in them. A sentence counts only if every word is right. Pink
noise from sox lies under both.
Run by hand; needs Debian's pocketsphinx-en-us, python3-pocketsphinx and sox.

    ./measure.py [--snr DB] [--dir FOLDER] [--sentences N]
"""
import argparse, functools, os, random, subprocess, sys, tempfile
import warnings
warnings.simplefilter("ignore", DeprecationWarning)
import audioop
from pocketsphinx.pocketsphinx import Decoder

HERE = os.path.dirname(os.path.abspath(__file__))
MODEL = "/usr/share/pocketsphinx/model/en-us"
EXTRA = {"presoak": "P R IY S OW K"}  # not in the model's dictionary
BETWEEN_DIGITS, BETWEEN_WORDS, BETWEEN_CLAUSES = 0.020, 0.060, 0.180  # seconds; as in voice_recordings.go


def phrases():
    with open(os.path.join(HERE, "phrases.txt")) as f:
        return dict(line.rstrip("\n").split("\t") for line in f)


def plain(text):
    """What a recogniser writes: letters alone."""
    return text.replace("pre-soak", "presoak").replace(",", "").replace(".", "").lower()


@functools.cache
def samples(folder, name):
    """A recording as 16-bit samples of the rate that the model wants, decoded by sox."""
    path = os.path.join(folder, name + ".ogg")
    return subprocess.run(["sox", "-D", path, "-r", "16000", "-t", "raw", "-e", "signed", "-b", "16", "-"],
                          check=True, capture_output=True).stdout


def silence(seconds):
    return bytes(2 * int(16000 * seconds))


def noise(seconds):
    """Pink noise of sox, always the same for a length (-R)."""
    return subprocess.run(["sox", "-R", "-n", "-r", "16000", "-c", "1", "-b", "16", "-e", "signed", "-t", "raw", "-",
                           "synth", str(seconds), "pinknoise", "vol", "0.5"], check=True, capture_output=True).stdout


BED = noise(60)


def noisy(speech, snr, seed):
    """Speech between half seconds of noise, at the ratio of their mean powers."""
    speech = silence(0.5) + speech + silence(0.5)
    at = 2 * random.Random(seed).randrange(len(BED) // 2 - len(speech) // 2)
    bed = BED[at:at + len(speech)]
    wanted = audioop.rms(speech[16000:-16000], 2) / 10 ** (snr / 20)
    return audioop.add(speech, audioop.mul(bed, 2, wanted / audioop.rms(bed, 2)), 2)


def decoder(rules, words):
    c = Decoder.default_config()
    c.set_string("-hmm", os.path.join(MODEL, "en-us"))
    known = set()
    dictionary = tempfile.NamedTemporaryFile("w", suffix=".dict", delete=False)
    with open(os.path.join(MODEL, "cmudict-en-us.dict")) as f:
        for line in f:
            word = line.split()[0].split("(")[0]
            if word in words:
                dictionary.write(line)
                known.add(word)
    for word, sounds in EXTRA.items():
        if word in words:
            dictionary.write(f"{word} {sounds}\n")
            known.add(word)
    dictionary.close()
    if words - known:
        sys.exit(f"not in the dictionary: {sorted(words - known)}")
    grammar = tempfile.NamedTemporaryFile("w", suffix=".gram", delete=False)
    grammar.write("#JSGF V1.0;\ngrammar words;\n" + rules)
    grammar.close()
    c.set_string("-dict", dictionary.name)
    c.set_string("-jsgf", grammar.name)
    c.set_string("-logfn", "/dev/null")
    d = Decoder(c)
    os.unlink(dictionary.name)
    os.unlink(grammar.name)
    return d


def heard(d, audio):
    d.start_utt()
    d.process_raw(audio, False, True)
    d.end_utt()
    return d.hyp().hypstr if d.hyp() else ""


PARTS = set("pour into left hours hour minutes minute seconds second sheet next-sheet overdue point minus hundred "
            "developed per-cent degrees transfer bath plus-minus longer within used-bath".split())


def standing(i):
    """Whether a phrase is ever said alone: numbers and joining words are not."""
    return i not in PARTS and not i.isdigit()


def alone(folder, texts, snr):
    """Each phrase among all."""
    rules = "public <p> = " + " | ".join(sorted({plain(t) for t in texts.values()})) + ";\n"
    d = decoder(rules, set(" ".join(map(plain, texts.values())).split()))
    return [(i, plain(t), heard(d, noisy(samples(folder, i), snr, i))) for i, t in texts.items() if standing(i)]


OFFERS = "hold go-on undo advice late-sheet film-late set-aside-sheet".split()
FIXED = [[["before-first"], ["begin-twice"]], [["not-begun"], ["escape-twice"]], [["held-elsewhere"], ["begin-twice"], ["escape-twice"]],
         [["held-elsewhere"], ["light-twice"]], [["cut-off"], ["light-twice"]], [["light-safe"], ["press-twice"]],
         [["stopped"], ["session-over"]], [["advice"], ["nothing-helps"]], [["ready"], ["last-sheet-out"]]]
BATHS = "presoak developer stop-bath fixer rinse washing-aid wash wetting".split()


def number(n):
    if n <= 20:
        return [str(n)]
    if n < 100:
        return [str(n // 10 * 10)] + ([str(n % 10)] if n % 10 else [])
    return [str(n // 100), "hundred"] + (number(n % 100) if n % 100 else [])


def duration(r):
    m, s = r.randrange(1, 60), r.randrange(1, 60)
    kind = r.randrange(3)
    minutes = number(m) + ["minute" if m == 1 else "minutes"]
    seconds = number(s) + ["second" if s == 1 else "seconds"]
    return [minutes, seconds, minutes + seconds][kind]


def sentence(r):
    """A list of clauses, each a list of ids, as voice_cues.go, voice_state.go and voice_events.go make them."""
    kind = r.randrange(22)
    if kind == 0:
        return [["transfer-sheet"] + number(r.randrange(1, 201))]
    if kind == 1:
        return [["pull-sheet"] + number(r.randrange(1, 13))]
    if kind == 2:
        return [["sheet"] + number(r.randrange(1, 201))]
    if kind == 3:
        return [["ready"], r.choice([["transfer", "into"], ["pour"]]) + [r.choice(BATHS)]]
    if kind == 4:
        return [["time-up"], duration(r) + ["overdue"]]
    if kind == 5:
        return [[r.choice(BATHS)], duration(r) + ["left"]]
    if kind == 6:
        return [["next-sheet"] + number(r.randrange(1, 201))]
    if kind == 7:
        return [["transfer", "into", r.choice(BATHS)]]
    if kind == 8:
        return [number(r.randrange(12, 40)) + ["point", str(r.randrange(10)), "degrees"], duration(r) + ["left"]]
    if kind == 9:
        return [["developed"] + number(r.randrange(1, 130)) + ["per-cent"]]
    if kind == 10:
        return [["wet-time"] + duration(r) + ["left"]]
    if kind == 11:
        return [["sheet"] + number(r.randrange(1, 201)) + ["wet-time"] + duration(r) + ["left"]]
    if kind == 12:
        return [["wet-time", "at-end"] + duration(r) + [r.choice(["left", "too-long"])]]
    if kind == 13:
        return [duration(r) + [r.choice(["earlier", "later"])]]
    if kind == 14:
        return [[r.choice(OFFERS)], ["press-to-choose"]] if r.randrange(8) else [["stop"], ["press-twice"]]
    if kind == 15:
        return [[r.choice(["late-sheet", "set-aside-sheet"])] + number(r.randrange(1, 201)), ["press-twice"]]
    if kind == 16:
        answer = [["sheet"] + number(r.randrange(1, 201)) + ["aside-in-water"]]
        if r.randrange(2):
            answer = [["late-sheet"] + number(r.randrange(1, 201)), [r.choice(BATHS)], ["held"]]
        return answer + [["undo-ten"]]
    if kind == 17:
        end = [["wet-time", "at-end"] + duration(r) + ["left"]]
        which = r.randrange(3)
        if which == 0:
            return [["advice"], [r.choice(BATHS), r.choice(["in-hangers", "one-by-one"])]] + end
        if which == 1:
            return [["advice"], [r.choice(BATHS)] + duration(r) + ["is-enough"]] + end
        return [["advice"], ["leave-out", r.choice(BATHS)]] + end
    if kind == 18:
        return [["ready"], r.choice([["transfer", "into"], ["pour"]]) + ["developer"], ["used-bath"], number(r.randrange(1, 101)) + ["per-cent", "longer"]]
    if kind == 19:
        return [["developed"] + number(r.randrange(0, 130)) + ["per-cent"], ["plus-minus"] + number(r.randrange(3, 20)) + ["per-cent"]]
    if kind == 20:
        within = ["read-developer", "within"] + duration(r)
        reading = [number(r.randrange(12, 40)) + ["point", str(r.randrange(10)), "degrees"], ["plus-minus"] + number(r.randrange(3)) + ["point", str(r.randrange(10))]]
        return r.choice([[within], reading])
    return r.choice(FIXED)


def sentences(folder, texts, snr, count):
    def text(ids):
        return " ".join(plain(texts[i]) for i in ids)
    some = [text(number(n)) for n in range(61)]
    tens = " | ".join(text(number(n)) for n in range(61, 100))
    rules = f"""<small> = {' | '.join(some)};
<number> = <small> | {tens} | (one | two) hundred [<small> | {tens}];
<m> = <small> (minute | minutes);
<s> = <small> (second | seconds);
<time> = <m> | <s> | <m> <s>;
<bath> = {' | '.join(text([b]) for b in BATHS)};
public <p> = transfer sheet <number> | pull sheet <number> | sheet <number> | ready (transfer into | pour) <bath>
  | next sheet <number> | transfer into <bath> | <number> point <small> degrees <time> left | developed <number> per cent
  | time up waiting <time> overdue | <bath> <time> left | wet time <time> left
  | sheet <number> wet time <time> left | <end> left | <end> too long | <time> (earlier | later)
  | ({' | '.join(text([o]) for o in OFFERS)}) press to choose | end session press twice
  | (late sheet | set aside sheet) <number> press twice
  | sheet <number> aside in water ten seconds to undo | late sheet <number> <bath> held ten seconds to undo
  | advice <bath> (in hangers | in single trays) <end> left | advice <bath> <time> is enough <end> left
  | ready (transfer into | pour) developer used bath <number> per cent longer
  | developed <number> per cent plus or minus <number> per cent | read the developer within <time>
  | <number> point <small> degrees plus or minus <small> point <small>
  | advice leave out <bath> <end> left | {' | '.join(' '.join(text(c) for c in f) for f in FIXED)};
<end> = wet time at the end <time>;
"""
    d = decoder(rules, set(" ".join(map(plain, texts.values())).split()))
    r = random.Random(7)
    results = []
    for k in range(count):
        clauses = sentence(r)
        audio = silence(BETWEEN_CLAUSES).join(joined(folder, c) for c in clauses)
        said = " ".join(text(c) for c in clauses)
        results.append((k, said, heard(d, noisy(audio, snr, k))))
    return results


def joined(folder, clause):
    """The words of a clause; ones stand close to their tens."""
    audio = b""
    for before, word in zip([None] + clause, clause):
        if before is not None:
            close = before.isdigit() and before.endswith("0") and before != "0" and word.isdigit() and len(word) == 1
            audio += silence(BETWEEN_DIGITS if close and int(before) >= 20 else BETWEEN_WORDS)
        audio += samples(folder, word)
    return audio


def tell(what, results):
    wrong = [x for x in results if x[1] != x[2]]
    for _, said, got in wrong:
        print(f"  {said!r} heard as {got!r}")
    print(f"{what}: {len(results) - len(wrong)} of {len(results)}, "
          f"{100 * (len(results) - len(wrong)) / len(results):.1f} %")
    return len(wrong) / len(results)


def main():
    a = argparse.ArgumentParser(description="how well the phrases are understood")
    a.add_argument("--snr", type=float, default=15, help="dB, speech to noise, of mean powers")
    a.add_argument("--dir", default=HERE)
    a.add_argument("--sentences", type=int, default=300)
    o = a.parse_args()
    texts = phrases()
    bad = max(tell(f"phrases alone, {o.snr:g} dB", alone(o.dir, texts, o.snr)),
              tell(f"sentences, {o.snr:g} dB", sentences(o.dir, texts, o.snr, o.sentences)))
    sys.exit(1 if bad > 0.05 else 0)


main()
