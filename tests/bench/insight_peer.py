"""The figures of a look back by pandas, statsmodels, scipy and pymannkendall: insight_peer.py FILE checks that they are
the program's own, then prints how long computing them takes, the mean of processor time in ms.

It is given every advantage that tidy data give: tables of moments and of what was in them are in memory, typed and
indexed, before the clock starts, and turning figures into lists to compare them comes after it stops."""

import json
import math
import sys
import time

import pandas
import pymannkendall
import statsmodels.api
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint

WAYS = ["toward", "away", "both", "not-sure"]
asked = json.load(open(sys.argv[1], encoding="utf-8"))


def table(name):
    frame = pandas.DataFrame(asked[name])
    return frame.assign(entry=frame.entry.astype("category"))


moments = pandas.DataFrame(asked["moments"])
moments["at"] = pandas.to_datetime(moments["at"], format="ISO8601", utc=True)
moments["way"] = pandas.Categorical(moments["way"], WAYS)
hooks, moves, served = table("hooks"), table("moves"), table("served")
since, until = (pandas.Timestamp(asked[name]) for name in ("since", "until"))
zone = asked["zone"]


def figures():
    so_far = moments[moments["at"] <= until]
    inside, before = so_far[so_far["at"] >= since], so_far[so_far["at"] < since]
    ways, ways_before = inside["way"].value_counts(), before["way"].value_counts()
    share = proportion_confint(ways["toward"], len(inside), method="wilson")
    difference = confint_proportions_2indep(
        ways["toward"], len(inside), ways_before["toward"], len(before), method="newcomb", compare="diff"
    )

    day = inside["at"].dt.tz_convert(zone).dt.tz_localize(None).dt.normalize()
    monday = day - pandas.to_timedelta(day.dt.weekday, unit="D")
    weeks = inside.groupby([monday, "way"], observed=False).size().unstack(fill_value=0)
    weeks = weeks.reindex(pandas.date_range(weeks.index[0], weeks.index[-1], freq="7D"), fill_value=0)
    begins = weeks.index.tz_localize(zone)
    ends = (weeks.index + pandas.Timedelta(days=7)).tz_localize(zone)
    whole = (begins >= since) & (ends - pandas.Timedelta(1) <= until)
    trend = pymannkendall.original_test(weeks.loc[whole & (weeks.sum(axis=1) > 0), "toward"].to_numpy())

    hooks_inside = hooks[hooks["moment"].isin(inside.index)]
    ways_of_hooks = (
        hooks_inside.assign(way=inside["way"].reindex(hooks_inside["moment"]).to_numpy())
        .groupby(["entry", "way"], observed=False)
        .size()
        .unstack(fill_value=0)
    )
    pairs = hooks_inside.merge(moves, on="moment", suffixes=("", "_did"))
    counts = pairs.groupby(["entry", "entry_did"], observed=False).size().unstack(fill_value=0)
    residuals = statsmodels.api.stats.Table(counts, shift_zeros=False).standardized_resids

    toward = inside.index[inside["way"].isin(["toward", "both"])]
    around = [frame.loc[frame["moment"].isin(toward), "entry"].value_counts() for frame in (hooks, moves, served)]
    return ways, ways_before, share, difference, weeks, whole, trend, ways_of_hooks, counts, residuals, len(toward), around


def close(a, b):
    return math.isclose(a, b, rel_tol=1e-9, abs_tol=1e-9)


def same(found, ours):
    ways, ways_before, share, difference, weeks, whole, trend, of_hooks, counts, residuals, toward, around = found

    def listed(counted):
        return {way.replace("-", "_"): int(counted[way]) for way in WAYS} | {"moments": int(counted.sum())}

    assert listed(ways) == ours["ways"] and listed(ways_before) == ours["before_since"]["before"]
    for theirs, interval in ((share, ours["toward"]), (difference, ours["before_since"]["difference"])):
        interval = interval["interval"]
        assert close(theirs[0], interval["low"]) and close(theirs[1], interval["high"]), (theirs, interval)
    assert len(weeks) == len(ours["weeks"])
    for (monday, week), is_whole, our in zip(weeks.iterrows(), whole, ours["weeks"]):
        assert (monday.date().isoformat(), bool(is_whole)) == (our["monday"], our["whole"]) and listed(week) == our["ways"]
    our = ours["over_weeks"]["trend"]
    assert int(trend.s) == our["s"] and close(trend.z, our["z"]) and close(trend.p, our["two_sided"])
    assert close(trend.slope, our["slope"]) and close(trend.var_s, our["variance"])
    assert len(ours["followed"]) == len(of_hooks)
    for our in ours["followed"]:
        assert listed(of_hooks.loc[our["hook"]]) == our["ways"]
        assert len(our["did"]) == (counts.loc[our["hook"]] > 0).sum()
        for did in our["did"]:
            assert counts.at[our["hook"], did["entry"]] == did["times"]
            assert close(residuals.at[our["hook"], did["entry"]], did["residual"])
    assert toward == ours["around"]["moments"]
    for theirs, name in zip(around, ("showed_up", "did", "served")):
        assert theirs[theirs > 0].to_dict() == {one["entry"]: one["times"] for one in ours["around"][name]}


same(figures(), asked["figures"])
start = time.process_time()
for _ in range(asked["rounds"]):
    figures()
print((time.process_time() - start) * 1000 / asked["rounds"])
