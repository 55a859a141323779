"""Recounts a look back from nothing but the map as JSON, with the standard library and statistics that others keep.

Reads a list of {"map": ..., "since": ..., "until": ..., "zone": ...}; answers with the look back of each, in the same
shape as the program's own. It shares no code and no method with the program where there is a choice of method.
"""

import datetime
import json
import sys
from functools import cache
from zoneinfo import ZoneInfo

import numpy
import pymannkendall
import scipy.stats
import statsmodels.api
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint

WAYS = {"toward": "toward", "away": "away", "both": "both", "not_sure": "not-sure"}


def moment_of(text):
    return datetime.datetime.fromisoformat(text)


def count(moments):
    ways = {name: sum(moment["way"] == way for moment in moments) for name, way in WAYS.items()}
    return {"moments": len(moments), **ways}


def interval(low, high):
    return {"low": float(low), "high": float(high)}


def share(ways):
    part, whole = ways["toward"], ways["moments"]
    if whole < 10:
        return None
    ends = proportion_confint(part, whole, alpha=0.05, method="wilson")
    return {"part": part, "whole": whole, "share": part / whole, "interval": interval(*ends)}


def before_since(since, before, after):
    if since is None:
        return None
    difference = None
    if min(before["moments"], after["moments"]) >= 10:
        a, n, b, m = after["toward"], after["moments"], before["toward"], before["moments"]
        ends = confint_proportions_2indep(a, n, b, m, method="newcomb", compare="diff", alpha=0.05)
        difference = {"difference": a / n - b / m, "interval": interval(*ends)}
    return {"since": since, "before": before, "after": after, "difference": difference}


def weeks(moments, start, end, zone):
    if end < start:
        return []
    day = start.astimezone(zone).date()
    monday = day - datetime.timedelta(days=day.weekday())
    found = []
    while True:
        begin, over = (
            datetime.datetime.combine(date, datetime.time(), zone).astimezone(datetime.timezone.utc)
            for date in (monday, monday + datetime.timedelta(days=7))
        )
        if begin > end:
            return found
        inside = [moment for moment in moments if begin <= moment_of(moment["at"]) < over]
        whole = start <= begin and over - datetime.timedelta(microseconds=1) <= end
        found.append({"monday": monday.isoformat(), "whole": whole, "ways": count(inside)})
        monday += datetime.timedelta(days=7)


def chances(values):
    """The exact chances of S, by laying down one value after another from what is left of them."""
    different = sorted(set(values))

    @cache
    def spread(left):
        if not any(left):
            return {0: 1}
        sums = {}
        for place, number in enumerate(left):
            if number:
                gain = sum(left[place + 1 :]) - sum(left[:place])
                for s, times in spread(left[:place] + (number - 1,) + left[place + 1 :]).items():
                    sums[s + gain] = sums.get(s + gain, 0) + times
        return sums

    sums = spread(tuple(values.count(value) for value in different))
    s = sum((b > a) - (b < a) for place, b in enumerate(values) for a in values[:place])
    total = sum(sums.values())
    one_sided = sum(times for other, times in sums.items() if other >= abs(s)) / total
    return one_sided, sum(times for other, times in sums.items() if abs(other) >= abs(s)) / total


def over_weeks(weeks):
    values = [week["ways"]["toward"] for week in weeks if week["whole"] and week["ways"]["moments"]]
    if len(values) < 4:
        return None
    found = pymannkendall.original_test(values)
    exact = len(values) <= 10
    one_sided, two_sided = chances(values) if exact else (float(scipy.stats.norm.sf(abs(found.z))), float(found.p))
    trend = {
        "values": len(values),
        "s": int(found.s),
        "variance": float(found.var_s),
        "z": float(found.z),
        "one_sided": one_sided,
        "two_sided": two_sided,
        "exact": exact,
        "slope": float(scipy.stats.theilslopes(values, numpy.arange(len(values)))[0]),
    }
    direction = "cannot-tell" if two_sided >= 0.05 else "more" if found.s > 0 else "fewer"
    return {"direction": direction, "trend": trend}


def most_first(lists):
    times = {}
    for entries in lists:
        for entry in dict.fromkeys(entries):
            times[entry] = times.get(entry, 0) + 1
    # Python's sort is stable, so of equals the one that came up first stays first.
    return sorted(times.items(), key=lambda one: -one[1])


def followed(moments):
    hooks = [hook for hook, _ in most_first(moment["showed_up"] for moment in moments)]
    moves = list(dict.fromkeys(move for moment in moments for move in moment["did"]))
    after = {hook: [moment for moment in moments if hook in moment["showed_up"]] for hook in hooks}
    table = numpy.array([[sum(move in m["did"] for m in after[hook]) for move in moves] for hook in hooks])
    residuals = {}
    if table.size:
        rows, columns = (numpy.flatnonzero(table.sum(axis=axis)) for axis in (1, 0))
        used = table[numpy.ix_(rows, columns)].astype(float)
        if min(used.shape) >= 2:
            asked = statsmodels.api.stats.Table(used, shift_zeros=False)
            if asked.fittedvalues.min() >= 5:
                for r, line in zip(rows, asked.standardized_resids):
                    for c, residual in zip(columns, line):
                        residuals[r, c] = float(residual)
    found = []
    for row, hook in enumerate(hooks):
        did = [
            {"entry": move, "times": int(table[row, column]), "residual": residuals.get((row, column))}
            for column, move in enumerate(moves)
            if table[row, column]
        ]
        did.sort(key=lambda one: -one["times"])
        found.append({"hook": hook, "ways": count(after[hook]), "did": did})
    return found


def around(moments):
    toward = [moment for moment in moments if moment["way"] in ("toward", "both")]

    def listed(name):
        return [{"entry": entry, "times": times} for entry, times in most_first(m[name] for m in toward)]

    return {
        "moments": len(toward),
        "showed_up": listed("showed_up"),
        "did": listed("did"),
        "served": listed("serves"),
    }


def living(lived):
    found = {}
    for said in lived:
        found.setdefault(said["entry"], []).append({name: said[name] for name in ("at", "importance", "closeness")})
    return [{"entry": entry, "pairs": pairs} for entry, pairs in found.items()]


def composite(living):
    latest = [one["pairs"][-1] for one in living]
    return float(numpy.mean([pair["importance"] * pair["closeness"] for pair in latest])) if latest else None


def look_back(question):
    end = moment_of(question["until"])
    so_far = [moment for moment in question["map"]["moments"] if moment_of(moment["at"]) <= end]
    since = question["since"]
    start = since or min((moment["at"] for moment in so_far), key=moment_of, default=None)
    moments = [moment for moment in so_far if moment_of(start) <= moment_of(moment["at"])]
    before = [moment for moment in so_far if moment_of(moment["at"]) < moment_of(start)]
    by_week = weeks(moments, moment_of(start), end, ZoneInfo(question["zone"])) if start else []
    lived = living([said for said in question["map"]["lived"] if moment_of(said["at"]) <= end])
    return {
        "from": start,
        "until": question["until"],
        "ways": count(moments),
        "toward": share(count(moments)),
        "before_since": before_since(since, count(before), count(moments)),
        "weeks": by_week,
        "over_weeks": over_weeks(by_week),
        "followed": followed(moments),
        "around": around(moments),
        "living": lived,
        "composite": composite(lived),
    }


if __name__ == "__main__":
    json.dump([look_back(question) for question in json.load(sys.stdin)], sys.stdout)
