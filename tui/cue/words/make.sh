#!/bin/sh
# Renders each phrase of phrases.txt to ID.ogg beside it: Ogg Vorbis, 44.1 kHz, mono,
# silence trimmed, normalised to -3 dBFS. Needs flite (voices under a BSD-like licence)
# and sox, both packaged by Debian. Run by go generate, or by hand:
#
#     ./make.sh [VOICE]       VOICE rms (default) or slt
#
# Its output is the same each time (sox with -R, and without dither).
set -eu
cd "$(dirname "$0")"
voice=${1:-rms}
raw=$(mktemp --suffix=.wav)
trap 'rm -f "$raw"' EXIT
rm -f -- *.ogg
tab=$(printf '\t')
while IFS=$tab read -r id text; do
	flite -voice "$voice" -t "$text" -o "$raw" </dev/null
	# What is below 0.4 % of full scale at either end is silence; a few
	# milliseconds of fading keep the cuts from clicking.
	sox -R -D "$raw" -r 44100 -c 1 -C 3 "$id.ogg" norm -3 \
		silence 1 0.002 0.4% fade 0.003 \
		reverse silence 1 0.002 0.4% fade 0.005 reverse norm -3
done <phrases.txt
