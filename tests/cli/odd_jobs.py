"""Jobs gone wrong: a good one with keys dropped, numbers absurd, words of another kind."""

import copy
import json
import math
import re

NUMBERS = [0, -1, 1e-9, 0.5, 45, 90, 180, 99999, 1e6, 1e300, 10**30, math.nan, math.inf, -math.inf]
WORDS = ["", "nan", "-3in", "1-1/8in", "3 furlong", "1e5", "12,5", "x" * 5000, "ü", "a\nb",
         'q"uote', "\u202e\0", "shell", "axle", "a4", "2m", "26in", "47-507"]
THINGS = [True, False, [], {}, [1, 2, 3], [[1]], {"a": 1}, ["shell"], ["nobody"],
          {"from": "axle", "by": [0, 0, 0]}, {"along": "seat-axis", "by": 1e4},
          {"radius": 1, "tyre": 47}]
SHAPES = ["28.6 x 0.9", "28.6", "oval 30 by 17 x 0.9", "oval 30 by 17 to 14 over 380 x 0.8",
          "box 40 by 20 corner 3 x 1.5", "plate 6", "25.4 bent to 120 x 0.9", "1 x 0.1",
          "22.2 to 14 over 390 x 0.8", "22 to 14 over 20 x 0.8", "300 x 5"]
NAMES = ["", "ü-rohr", "a b", "x" * 300, 'q"t', "a\nb", "shell", "<svg>&amp;", "%s{}", "🚲", "../x",
         "$\\alpha$"]


def toml(value, top=True):
    """A job as TOML, the top table's values inline."""
    match value:
        case dict():
            pairs = [f"{key(name)} = {toml(item, False)}" for name, item in value.items()]
            return "\n".join(pairs) + "\n" if top else "{ " + ", ".join(pairs) + " }"
        case list():
            return "[" + ", ".join(toml(item, False) for item in value) + "]"
        case float() if not math.isfinite(value):
            return str(value)
    return json.dumps(value)


def key(name):
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else json.dumps(name)


def places(value, before=()):
    """The path of every value inside."""
    pairs = (value.items() if isinstance(value, dict)
             else enumerate(value) if isinstance(value, list) else ())
    for name, item in pairs:
        yield (*before, name)
        yield from places(item, (*before, name))


def gone_wrong(job, chance):
    """The job with one to three things changed."""
    job = copy.deepcopy(job)
    for _ in range(chance.choice([1, 1, 1, 2, 3])):
        chance.choice(CHANGES)(job, chance)
    return job


def anywhere(job, chance):
    """A table or a list, and the place in it of a value."""
    *way, last = chance.choice(list(places(job)))
    for name in way:
        job = job[name]
    return job, last


def drop(job, chance):
    table, place = anywhere(job, chance)
    del table[place]


def put(job, chance):
    table, place = anywhere(job, chance)
    table[place] = copy.deepcopy(chance.choice([chance.choice(NUMBERS), chance.choice(WORDS),
                                                chance.choice(THINGS)]))


def scale(job, chance):
    table, place = anywhere(job, chance)
    if isinstance(table[place], int | float) and not isinstance(table[place], bool):
        table[place] *= chance.choice([-1, 0.1, 0.7, 1.3, 10, 25.4])


def tubes(job):
    """The tubes that are still tables with two ends."""
    found = job.get("tubes")
    return [tube for tube in (found.values() if isinstance(found, dict) else ())
            if isinstance(tube, dict)
            and all(isinstance(tube.get(end), dict) for end in ("start", "end"))]


def reshape(job, chance):
    for tube in tubes(job)[:1 + chance.randrange(9)][-1:]:
        tube["shape"] = chance.choice(SHAPES)


def swap(job, chance):
    for tube in tubes(job)[:1 + chance.randrange(9)][-1:]:
        tube["start"], tube["end"] = tube["end"], tube["start"]


def reseat(job, chance):
    for tube in tubes(job)[:1 + chance.randrange(9)][-1:]:
        end = tube[chance.choice(["start", "end"])]
        end["on"] = chance.sample(list(job["tubes"]), min(2, len(job["tubes"])))
        end.pop("back", None)


def rename(job, chance):
    if tubes(job):
        old, new = chance.choice(list(job["tubes"])), chance.choice(NAMES)
        job["tubes"] = {new if name == old else name: tube for name, tube in job["tubes"].items()}
        for tube in tubes(job):
            for end in (tube["start"], tube["end"]):
                if isinstance(end.get("on"), list):
                    end["on"] = [new if name == old else name for name in end["on"]]


def inches(job, chance):
    job["units"] = chance.choice(["in", "cm", "m", "ft", "inch", ""])


CHANGES = [drop, put, put, scale, scale, reshape, reshape, swap, reseat, rename, inches]
