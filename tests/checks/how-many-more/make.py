"""The formula for extra lines written again, to make expected.json."""
import json
from math import log, sqrt
from statistics import NormalDist
Phi, z = NormalDist().cdf, NormalDist().inv_cdf

def level(m):
    return 0.85 if m >= 6 else 0.90 if m >= 4 else None

def more(mean, sd, m, benchmark):
    a = mean - log(benchmark / (1 - benchmark))
    omega2 = m / (1 / sd**2 - 1 / 1.5**2)
    for extra in range(1, 61):
        if level(m + extra) is None:
            continue
        s2 = 1 / (1 / sd**2 + extra / omega2)
        s, move, q = sqrt(s2), sqrt(sd**2 - s2), z(level(m + extra))
        p = Phi((a - q * s) / move) + Phi((-a - q * s) / move)
        if p >= 0.8:
            return extra, p
    return None, None

here = "../reference-seasons/"
out = []
for name in ["tiny20", "typical144", "separation120", "strong600"]:
    groups = json.load(open(here + name + "/extra.json"))["posterior"]["value"]
    for path, g in [("season", groups["season"])] + [(k + "/" + n, v) for k in ("pasture", "cover") for n, v in groups[k].items()]:
        c, m = level(g["transects"]), g["transects"]
        if c is not None and (g["chance"] >= c or g["chance"] <= 1 - c):
            lines = 0
        else:
            lines, p = more(g["mean_logit"], g["sd_logit"], m, 0.5)
        out.append({"set": name, "path": path, "lines": lines})
json.dump(out, open("expected.json", "w"), indent=1)
