#!/usr/bin/python3
"""Writes spectra.json: what scipy says of the window, the power spectrum and the
filters, for spectra_test.go and train's filter test. Run: /usr/bin/python3 make_reference.py"""
import json
import numpy as np
import scipy
from scipy import signal

fs, n = 16000, 512
rng = np.random.default_rng(20260101)
t = np.arange(n) / fs
cases = {
    "sine in a bin": np.sin(2 * np.pi * 3000 * t),
    "sine between bins": 0.25 * np.sin(2 * np.pi * 3111.1 * t + 0.3),
    "noise": rng.standard_normal(n) * 0.1,
    "impulse": np.eye(1, n, 200)[0],
    "three tones": 0.3 * np.sin(2 * np.pi * 2700 * t) + 0.2 * np.sin(2 * np.pi * 2850 * t) + 0.1 * np.cos(2 * np.pi * 5600 * t),
}
out = {"origin": "scipy %s, numpy %s, signal.get_window('hann', 512, fftbins=True) and signal.periodogram(scaling='spectrum', detrend=False)" % (scipy.__version__, np.__version__),
       "window": signal.get_window("hann", n, fftbins=True).tolist(), "cases": []}
for name, x in cases.items():
    x = x.astype(np.float32).astype(float)
    _, p = signal.periodogram(x, fs, window="hann", scaling="spectrum", detrend=False)
    out["cases"].append({"name": name, "x": x.tolist(), "power": p.tolist()})
w = 2 * np.pi
def cookbook(kind, hz, q, gain=0.0):
    a, w0 = 10 ** (gain / 40), 2 * np.pi * hz / fs
    al, c = np.sin(w0) / 2 / q, np.cos(w0)
    if kind == "peaking":
        return [1 + al * a, -2 * c, 1 - al * a], [1 + al / a, -2 * c, 1 - al / a]
    if kind == "lowpass":
        return [(1 - c) / 2, 1 - c, (1 - c) / 2], [1 + al, -2 * c, 1 - al]
    return [(1 + c) / 2, -(1 + c), (1 + c) / 2], [1 + al, -2 * c, 1 - al]
x = rng.standard_normal(128)
flt = []
for kind, hz, q, gain in [("peaking", 2500, 1.5, 8), ("peaking", 900, 4, -10), ("lowpass", 3700, 0.541, 0), ("highpass", 300, 0.7, 0)]:
    b, a = cookbook(kind, hz, q, gain)
    flt.append({"kind": kind, "hz": hz, "q": q, "gain": gain, "y": signal.lfilter(b, a, x).tolist()})
out["filters"] = {"origin": "signal.lfilter with the coefficients of the Audio EQ Cookbook", "x": x.tolist(), "cases": flt}
with open("spectra.json", "w") as f:
    json.dump(out, f)
