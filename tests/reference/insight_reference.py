"""Answers for the tests of insight, by libraries that others keep. One process answers a whole batch: the name of the
task is the argument, the questions are a JSON list on standard input, the answers one on standard output."""

import itertools
import json
import sys

import networkx
import numpy
import pymannkendall
import scipy.stats
import statsmodels.api
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint


def cycles(question):
    graph = networkx.DiGraph()
    graph.add_nodes_from(range(len(question["graph"])))
    graph.add_edges_from((a, b) for a, edges in enumerate(question["graph"]) for b in edges)
    found = networkx.simple_cycles(graph, length_bound=question["longest"])

    def from_lowest(cycle):
        begin = cycle.index(min(cycle))
        return cycle[begin:] + cycle[:begin]

    return sorted(from_lowest(cycle) for cycle in found)


def wilson(question):
    low, high = proportion_confint(question[0], question[1], alpha=0.05, method="wilson")
    return [float(low), float(high)]


def newcombe(question):
    (a, n), (b, m) = question
    low, high = confint_proportions_2indep(a, n, b, m, method="newcomb", compare="diff", alpha=0.05)
    return [float(low), float(high)]


def trend(question):
    found = pymannkendall.original_test(question)
    slope = scipy.stats.theilslopes(question, numpy.arange(len(question)))[0]
    return {
        "s": int(found.s),
        "variance": float(found.var_s),
        "z": float(found.z),
        "two_sided": float(found.p),
        "slope": float(slope),
        "their_slope": float(found.slope),
    }


def score(values):
    pairs = itertools.combinations(values, 2)
    return sum((b > a) - (b < a) for a, b in pairs)


def chances(question):
    """The exact chances by counting every order of the values."""
    s = score(question)
    others = [score(order) for order in itertools.permutations(question)]
    far = sum(other >= abs(s) for other in others)
    both = sum(abs(other) >= abs(s) for other in others)
    return [far / len(others), both / len(others)]


def kendall(question):
    """scipy's own exact chance, for values without ties."""
    found = scipy.stats.kendalltau(numpy.arange(len(question)), question, method="exact")
    return float(found.pvalue)


def residuals(question):
    table = statsmodels.api.stats.Table(numpy.array(question, dtype=float), shift_zeros=False)
    return table.standardized_resids.tolist()


TASKS = {task.__name__: task for task in (cycles, wilson, newcombe, trend, chances, kendall, residuals)}

if __name__ == "__main__":
    answer = TASKS[sys.argv[1]]
    json.dump([answer(question) for question in json.load(sys.stdin)], sys.stdout)
