#!/usr/bin/python3
"""Reads CGATS texts with liblcms2, as an independent reader. Standard input: a
JSON array of texts in base64. Standard output: for each, null where liblcms2
refuses it, else the column D_VIS (or D_BLUE) as numbers, in the order of the
file; an empty list where there is no such column.

    /usr/bin/python3 lcms.py < texts.json      (needs liblcms2.so.2)
"""
import base64
import ctypes
import json
import sys

lcms = ctypes.CDLL("liblcms2.so.2")
lcms.cmsIT8LoadFromMem.restype = ctypes.c_void_p
lcms.cmsIT8LoadFromMem.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_uint32]
lcms.cmsIT8FindDataFormat.argtypes = [ctypes.c_void_p, ctypes.c_char_p]
lcms.cmsIT8GetPropertyDbl.restype = ctypes.c_double
lcms.cmsIT8GetPropertyDbl.argtypes = [ctypes.c_void_p, ctypes.c_char_p]
lcms.cmsIT8GetDataRowColDbl.restype = ctypes.c_double
lcms.cmsIT8GetDataRowColDbl.argtypes = [ctypes.c_void_p, ctypes.c_int, ctypes.c_int]
lcms.cmsIT8Free.argtypes = [ctypes.c_void_p]


def column(text):
    table = lcms.cmsIT8LoadFromMem(None, text, len(text))
    if not table:
        return None
    values = []
    for field in (b"D_VIS", b"D_BLUE"):
        k = lcms.cmsIT8FindDataFormat(table, field)
        if k >= 0:
            n = int(lcms.cmsIT8GetPropertyDbl(table, b"NUMBER_OF_SETS"))
            values = [lcms.cmsIT8GetDataRowColDbl(table, i, k) for i in range(n)]
            break
    lcms.cmsIT8Free(table)
    return values


json.dump([column(base64.b64decode(t)) for t in json.load(sys.stdin)], sys.stdout)
