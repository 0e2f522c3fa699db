"""Boxes that hold 95 % of simulated nests, by plain Monte Carlo: 200,000 draws with the generators of Python's standard library.

Independent of the product: no evenly spread draws, the weighted place by inverse covariances, the box by bisection on the level of both sides.
Run: python3 make.py > expected.json
"""
import json
import math
import random

N = 200_000
chance = random.Random(20260504)


def direction(degrees):
    return math.sin(math.radians(degrees)), math.cos(math.radians(degrees))


def share(c):
    """By what share of its length the step of a walk is off."""
    if c["walks"] < 2:
        return chance.gauss(0, .08)
    df = c["walks"] - 1
    student = chance.gauss(0, 1) / math.sqrt(chance.gammavariate(df / 2, 2) / df)
    return student * c["sd_m"] / c["step_m"] * math.sqrt(1 + 1 / c["walks"])


def walked(c):
    """The nest seen from the flag: the legs with the errors of one walk."""
    x = y = 0.0
    length, declination = c["step_m"] * (1 + share(c)), chance.gauss(0, c.get("declination_sd", 0))
    for steps, bearing, is_point in c["legs"]:
        off = chance.uniform(-11.25, 11.25) if is_point else chance.gauss(0, 3)
        east, north = direction(bearing + off + declination)
        metres = (steps + chance.uniform(-.5, .5)) * length
        x, y = x + metres * east, y + metres * north
    return x, y


def inverse(a, b, d):
    det = a * d - b * b
    return d / det, -b / det, a / det


def box(c):
    legs = [(s * c["step_m"] * direction(b)[0], s * c["step_m"] * direction(b)[1]) for s, b, _ in c["legs"]]
    rx, ry = sum(l[0] for l in legs), sum(l[1] for l in legs)
    bx, by = sum(l[0] for l in legs[:-1]), sum(l[1] for l in legs[:-1])
    nests = [walked(c) for _ in range(N)]
    cx, cy = rx, ry
    errors = [(x - rx, y - ry) for x, y in nests]
    if "gps" in c:
        sd = c["gps"]["sd_m"]
        a, b, d = inverse(sum(e * e for e, _ in errors) / N, sum(e * n for e, n in errors) / N, sum(n * n for _, n in errors) / N)
        w = 1 / sd ** 2
        p, q, r = inverse(a + w, b, d + w)

        def weighted(gx, gy):
            u, v = a * rx + b * ry + w * gx, b * rx + d * ry + w * gy
            return p * u + q * v, q * u + r * v

        errors = []
        for x, y in nests:
            mx, my = weighted(x + chance.gauss(0, sd), y + chance.gauss(0, sd))
            errors.append((x - mx, y - my))
        cx, cy = weighted(c["gps"]["east_m"], c["gps"]["north_m"])
    facing = math.atan2(cx - bx, cy - by)
    s, k = math.sin(facing), math.cos(facing)
    sides = [(abs(e * k - n * s), abs(e * s + n * k)) for e, n in errors]
    across, along = sorted(a for a, _ in sides), sorted(l for _, l in sides)
    low, high = int(.95 * N), N - 1
    while low < high:
        i = (low + high) // 2
        if sum(a <= across[i] and l <= along[i] for a, l in sides) >= .95 * N:
            high = i
        else:
            low = i + 1
    return {**c, "east_m": round(cx, 3), "north_m": round(cy, 3), "left_right_m": round(across[low], 3), "ahead_back_m": round(along[low], 3)}


ASSUMED = {"walks": 0, "sd_m": None}
CASES = [
    {"what": "23 steps ENE, step never measured", "legs": [(23, 67.5, True)], "step_m": .76, **ASSUMED},
    {"what": "23 steps at 70°, step never measured", "legs": [(23, 70, False)], "step_m": .76, **ASSUMED},
    {"what": "17 steps NE, four walks", "legs": [(17, 45, True)], "step_m": .78, "walks": 4, "sd_m": .015, "declination_sd": .35},
    {"what": "60 steps S, ten walks", "legs": [(60, 180, True)], "step_m": .7, "walks": 10, "sd_m": .03},
    {"what": "two legs round a thicket", "legs": [(20, 0, True), (12, 90, True)], "step_m": .75, **ASSUMED},
    {"what": "two legs in degrees", "legs": [(30, 215, False), (15, 300, False)], "step_m": .75, "walks": 6, "sd_m": .02},
    {"what": "with a position", "legs": [(40, 67.5, True)], "step_m": .76, **ASSUMED, "gps": {"east_m": 26.0, "north_m": 14.0, "sd_m": 2.8}},
    {"what": "with a poor position", "legs": [(23, 292.5, True)], "step_m": .76, "walks": 5, "sd_m": .02, "gps": {"east_m": -19.0, "north_m": 9.0, "sd_m": 9.0}},
]
print(json.dumps([box(c) for c in CASES], indent=1, ensure_ascii=False))
