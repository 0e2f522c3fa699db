"""Makes expected.json from data.csv: every resample of the lines, each fitted by plain expectation-maximisation from equal masses.

Slow and obvious on purpose; shares nothing with the product. Run in this folder: python3 make.py
"""
import csv, itertools, json, math

INF = float("inf")
rows = [(r["line"], float(r["a"]), float(r["b"]) if r["b"] else INF, float(r["t"]) if r["t"] else None) for r in csv.DictReader(open("data.csv"))]
lines = sorted({r[0] for r in rows})
days = [9.0, 14.0, 21.0, 22.5, 28.0]

# ends in order: at one day an exact time opens (0), right ends close (1), left-open ends open (2)
obs = [(line, ((a, 2), (b, 1)) if t is None else ((t, 0), (t, 1))) for line, a, b, t in rows if t is not None or a > 0 or b < INF]
ends = sorted({e for _, o in obs for e in o})
places = [(ends[i - 1], ends[i]) for i in range(1, len(ends)) if ends[i][1] == 1 and ends[i - 1][1] != 1]


def em(kinds):
    """Masses by place where expectation-maximisation from equal masses ends; kinds: observation -> number of nests."""
    runs = [([j for j, (l, r) in enumerate(places) if o[0] <= l and r <= o[1]], w) for o, w in kinds.items()]
    n, k = sum(kinds.values()), len(places)
    th = [1 / k] * k
    for _ in range(200000):
        g = [0.0] * k
        for js, w in runs:
            p = sum(th[j] for j in js)
            for j in js:
                g[j] += w / p / n
        new = [t * x for t, x in zip(th, g)]
        change = max(abs(x - y) for x, y in zip(new, th))
        th = new
        if change < 1e-16:
            break
    return th


def survival(th, day):
    lost = 0.0
    for (l, r), mass in zip(places, th):
        if r[0] <= day:
            lost += mass
        elif l[0] < day:
            lost += mass / 2
    return 1 - lost


def count(drawn):
    kinds = {}
    for line in drawn:
        for l, o in obs:
            if l == line:
                kinds[o] = kinds.get(o, 0) + 1
    return kinds


m = len(lines)
resamples = []
for drawn in itertools.combinations_with_replacement(range(m), m):
    ways = math.factorial(m)
    for g in range(m):
        ways //= math.factorial(drawn.count(g))
    th = em(count([lines[g] for g in drawn]))
    resamples.append({"drawn": list(drawn), "ways": ways, "survival": [survival(th, d) for d in days]})

th = em(count(lines))
points = []
for d, day in enumerate(days):
    s = survival(th, day)
    if any(r["survival"][d] < 1e-9 or r["survival"][d] > 1 - 1e-9 for r in resamples):
        points.append({"day": day, "survival": s, "se_log_log": None})
        continue
    z = [(r["ways"] / m**m, math.log(-math.log(r["survival"][d]))) for r in resamples]
    mean = sum(p * x for p, x in z)
    var = sum(p * (x - mean) ** 2 for p, x in z)
    fourth = sum(p * (x - mean) ** 4 for p, x in z)
    se = math.sqrt(var)
    mc = math.sqrt((fourth / var**2 - 1) / 999) / 2  # relative standard error of a standard deviation from 999 draws
    points.append({"day": day, "survival": s, "se_log_log": se * math.sqrt(m / (m - 1)), "relative_mc_se": mc})

json.dump({"places": [[l[0], None if r[0] == INF else r[0]] for l, r in places], "mass": th, "points": points, "days": days, "resamples": resamples}, open("expected.json", "w"), indent=1)
