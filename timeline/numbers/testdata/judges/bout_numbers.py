"""Works out the numbers of a bout from its plain tables, with scipy for the
intervals. Usage: python3 bout_numbers.py FOLDER, which holds jams.csv, lineups.csv,
leads.csv, stars.csv, trips.csv, penalties.csv and visits.csv. Times are seconds
of jam time; a stay in the box that the bout ended has no out_jam."""

import collections
import csv
import itertools
import json
import math
import os
import sys

import scipy
from scipy import stats


def table(name):
    with open(os.path.join(sys.argv[1], name + ".csv"), newline="", encoding="utf-8") as f:
        return list(csv.DictReader(f))


jams = [(r["jam"], float(r["length"]), r["overtime"] == "1") for r in table("jams")]
length = {j: l for j, l, _ in jams}
overtime = {j for j, _, o in jams if o}
start, clock = {}, 0.0  # every jam laid end to end: the box's own clock
for j, l, _ in jams:
    start[j] = clock
    clock += l

role = {}
fielded = collections.defaultdict(list)
for r in table("lineups"):
    role[r["jam"], r["side"], r["skater"]] = r["role"]
    fielded[r["side"], r["skater"]].append(r["jam"])
lead = {(r["jam"], r["side"]) for r in table("leads")}
star = {(r["jam"], r["side"]): r["to"] for r in table("stars")}
trips = table("trips")
points = collections.Counter()
for t in trips:
    points[t["jam"], t["side"]] += int(t["points"])
other = {"home": "away", "away": "home"}


def mean(values):
    """Mean with its 95 % interval by Student's distribution."""
    n = len(values)
    out = {"n": n, "mean": sum(values) / n if n else 0.0, "low": None, "high": None}
    if n > 1:
        spread = stats.sem(values)
        if spread == 0:
            out["low"] = out["high"] = out["mean"]
        else:
            out["low"], out["high"] = map(float, stats.t.interval(0.95, n - 1, loc=out["mean"], scale=spread))
    return out


def share(k, n):
    """Wilson's score interval."""
    if n == 0:
        return {"count": 0, "of": 0, "from": 0.0, "to": 0.0}
    ci = stats.binomtest(k, n).proportion_ci(0.95, method="wilson")
    return {"count": k, "of": n, "from": float(ci.low), "to": float(ci.high)}


def diff(side, among):
    return mean([points[j, side] - points[j, other[side]] for j in among])


def stays(side, who):
    """Stretches of the laid-out clock, None for a stay to the bout's end."""
    for v in visits:
        if v["side"] == side and v["skater"] == who:
            lo = start[v["in_jam"]] + min(max(float(v["in"]), 0.0), length[v["in_jam"]])
            hi = start[v["out_jam"]] + float(v["out"]) if v["out_jam"] else math.inf
            past = float(v["in"]) > length[v["in_jam"]]
            yield v, lo, hi, past


visits = table("visits")
penalties = table("penalties")
skaters = sorted({(r["side"], r["skater"]) for r in table("lineups")} | {(p["side"], p["skater"]) for p in penalties})
said = {"skaters": {}, "groups": {}, "pairs": {}, "penalties": {}, "points": {}}
for side, who in skaters:
    mine = fielded[side, who]
    jammer = [j for j in mine if role[j, side, who] == "jammer"]
    scoring = [t for t in trips if t["side"] == side and t["by"] == who and (int(t["number"]) > 1 or t["jam"] in overtime)]
    box, conceded = 0.0, 0
    for v, lo, hi, past in stays(side, who):
        box += min(hi, clock) - lo
        for t in trips:
            if t["side"] == side or past:
                continue
            # The end of a trip in the right jam: jams touch on the laid-out clock, so the
            # jam itself is compared first.
            i, k = [x for x, *_ in jams].index(t["jam"]), [x for x, *_ in jams].index(v["in_jam"])
            last = [x for x, *_ in jams].index(v["out_jam"]) if v["out_jam"] else len(jams)
            end = float(t["end"])
            after = i > k or i == k and end >= float(v["in"])
            before = i < last or i == last and end < float(v["out"])
            if after and before:
                conceded += int(t["points"])
    said["skaters"][side + " " + who] = {
        "jams": len(mine),
        "jammer": len(jammer),
        "star": sum(1 for (j, s), to in star.items() if s == side and to == who),
        "for": sum(points[j, side] for j in mine),
        "against": sum(points[j, other[side]] for j in mine),
        "per_jam": diff(side, mine),
        "lead": share(sum((j, side) in lead for j in jammer), len([j for j in jammer if j not in overtime])),
        "trips": len(scoring),
        "scored": sum(int(t["points"]) for t in scoring),
        "penalties": sum(p["side"] == side and p["skater"] == who for p in penalties),
        "box": round(box, 6),
        "conceded": conceded,
    }
for side in ("home", "away"):
    said["points"][side] = sum(points[j, side] for j, *_ in jams)
    four, two = collections.defaultdict(list), collections.defaultdict(list)
    for j, *_ in jams:
        wall = sorted(n for (x, s, n), r in role.items() if x == j and s == side and r != "jammer")
        if len(wall) == 4:
            four[" ".join(wall)].append(j)
        for pair in itertools.combinations(wall, 2):
            two[" ".join(pair)].append(j)
    for name, groups in (("groups", four), ("pairs", two)):
        for key, among in groups.items():
            said[name][side + " " + key] = diff(side, among)
    codes = collections.Counter((p["code"], p["period"]) for p in penalties if p["side"] == side)
    for (code, period), n in codes.items():
        said["penalties"][side + " " + code + " " + period] = n
said["scipy"] = scipy.__version__
json.dump(said, sys.stdout, ensure_ascii=False, indent=1, sort_keys=True)
print()
