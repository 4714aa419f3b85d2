#!/usr/bin/env python3
"""The characters that every Latin, Greek and Cyrillic console font in a folder has, and code
page 437 too: python3 console_fonts.py /usr/share/consolefonts (Debian: console-setup-linux).
The fonts are in the PC Screen Font format, version 1 (psfu(5) of package kbd)."""
import glob, gzip, struct, sys

def characters(name):
    data = gzip.open(name).read()
    if data[:2] == b"\x36\x04":  # version 1
        count, at, found = 512 if data[2] & 1 else 256, 0, set()
        words = struct.unpack_from("<%dH" % ((len(data) - 4 - count * data[3]) // 2), data, 4 + count * data[3])
        sequence = False
        for word in words:
            sequence = word == 0xFFFE or sequence and word != 0xFFFF
            if word < 0xFFFE and not sequence:
                found.add(chr(word))
        return found
    header = struct.unpack_from("<8I", data, 0)  # version 2
    records = data[header[2] + header[4] * header[5]:].split(b"\xff")[:header[4]]
    return set("".join(r.split(b"\xfe")[0].decode("utf-8", "ignore") for r in records))

fonts = [f for f in glob.glob(sys.argv[1] + "/*.psf.gz") if any(k in f for k in ("Lat", "Uni", "Cyr", "Greek"))]
page = set(bytes(range(128, 256)).decode("cp437")) | set("←↑→↓▲▼")
both = set.intersection(page, *(characters(f) for f in fonts))
print(len(fonts), "fonts:", "".join(sorted(both)))
