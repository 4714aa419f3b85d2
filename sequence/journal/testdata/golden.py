#!/usr/bin/env python3
"""Writes golden.jsonl with a CRC32C made bit by bit, apart from any library.

The polynomial is that of RFC 3720 (0x1EDC6F41, here bit-reversed); its
appendix B.4 gives 0x8a9136aa for 32 bytes of zero, asserted below.
Run: python3 golden.py > golden.jsonl
"""
import hashlib, json, sys


def crc32c(data, crc=0):
    crc ^= 0xFFFFFFFF
    for byte in data:
        crc ^= byte
        for _ in range(8):
            crc = (crc >> 1) ^ (0x82F63B78 if crc & 1 else 0)
    return crc ^ 0xFFFFFFFF


assert crc32c(bytes(32)) == 0x8A9136AA
assert crc32c(bytes([0xFF] * 32)) == 0x62A8AB43

plan = {"recipe": {"title": "Tern 100, two sheets", "film": {"name": "Tern 100", "sensitivity": "pan"},
                   "load": {"vessel": "tray", "sheets": 2}, "steps": []},
        "vessel": "tray", "sheets": 2, "steps": [], "cues": []}
text = json.dumps(plan, separators=(",", ":"))


def record(seq, at, event, **more):
    r = {"v": 1, "seq": seq, "at_s": at, "event": event}
    r.update(more)
    r.update({"boot": "3f0c5c52-0000-4000-8000-00000000000a", "boottime_s": 1000.25 + at, "monotonic_s": 900.5 + at,
              "raw_s": 900.125 + at, "wall": "2026-11-25T19:12:%02d.250+01:00" % at, "elapsed_s": at + 0.001})
    return r


records = [
    record(0, 0, "session-began", id="golden", version="1.0", text=""),
    record(1, 0, "step-began", step="presoak"),
    record(2, 10, "cue", cue="turn", step="presoak", sheet=2),
    record(3, 12.5, "note", text="a \"quoted\" word, a tab\tand a tern \u2014"),
    record(4, 15, "reading", temperature_c=20.5, source="hand"),
]
records[0]["plan_hash"] = hashlib.sha256(text.encode()).hexdigest()
records[0]["plan"] = plan

chain = 0
for r in records:
    body = json.dumps(r, separators=(",", ":"), ensure_ascii=False)[:-1]
    chain = crc32c(body.encode(), chain)
    sys.stdout.write('%s,"crc":"%08x"}\n' % (body, chain))
