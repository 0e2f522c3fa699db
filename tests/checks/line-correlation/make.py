"""Correlation of two nests of one line: Simpson's rule and bisection, written apart from the program."""
import json
import math


def moments(beta, sd, n=4000, end=9.0):
    h = 2 * end / n
    a = b = 0.0
    for i in range(n + 1):
        z = -end + i * h
        w = (1 if i in (0, n) else 4 if i % 2 else 2) * h / 3 * math.exp(-z * z / 2) / math.sqrt(2 * math.pi)
        s = math.exp(-math.exp(beta + sd * z))
        a += w * s
        b += w * s * s
    return a, b


def correlation(survival, sd):
    low, high = -30.0, 10.0
    for _ in range(80):
        middle = (low + high) / 2
        if moments(middle, sd)[0] > survival:
            low = middle
        else:
            high = middle
    mean, square = moments(low, sd)
    return (square - mean * mean) / (mean * (1 - mean))


if __name__ == "__main__":
    rows = [{"survival": p, "sd": sd, "correlation": correlation(p, sd)} for p in (0.1, 0.3, 0.5, 0.6, 0.9) for sd in (0.25, 0.5, 1.0, 1.5)]
    print(json.dumps(rows, indent=1))
