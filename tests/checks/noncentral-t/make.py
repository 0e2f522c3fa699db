"""Upper tail of the noncentral t distribution: Simpson's rule over the chi density, written apart from the program."""
import json
import math


def above(limit, degrees, away, n=20000):
    # s = sqrt(chi2/degrees), from 0 to where its density is nothing.
    end = 1 + 12 / math.sqrt(degrees)
    h = end / n
    c = math.log(2) + degrees / 2 * math.log(degrees / 2) - math.lgamma(degrees / 2)
    total = 0.0
    for i in range(1, n + 1):
        s = i * h
        w = (1 if i == n else 4 if i % 2 else 2) * h / 3
        total += w * math.exp(c + (degrees - 1) * math.log(s) - degrees * s * s / 2) * 0.5 * math.erfc((limit * s - away) / math.sqrt(2))
    return total


if __name__ == "__main__":
    rows = [{"limit": t, "degrees": v, "away": d, "above": above(t, v, d)} for v in (3, 4, 5, 11, 23, 59) for t in (-1.0, 0.5, 1.1, 2.0) for d in (-2.0, 0.0, 0.7, 3.0)]
    print(json.dumps(rows, indent=1))
