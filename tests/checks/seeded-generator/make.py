"""xoshiro256** and SplitMix64 written again from the papers, to make expected.json."""
import json
M = (1 << 64) - 1

def rotl(x, k):
    return ((x << k) | (x >> (64 - k))) & M

def splitmix(state):
    state = (state + 0x9E3779B97F4A7C15) & M
    z = state
    z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & M
    z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & M
    return state, z ^ (z >> 31)

def xoshiro(s, n):
    s, out = list(s), []
    for _ in range(n):
        out.append((rotl((s[1] * 5) & M, 7) * 9) & M)
        t = (s[1] << 17) & M
        s[2] ^= s[0]; s[3] ^= s[1]; s[1] ^= s[2]; s[0] ^= s[3]
        s[2] ^= t
        s[3] = rotl(s[3], 45)
    return out

state, mixed = 1234567, []
for _ in range(5):
    state, z = splitmix(state)
    mixed.append(str(z))
json.dump({"splitmix_of_1234567": mixed, "xoshiro_of_1_2_3_4": [str(x) for x in xoshiro([1, 2, 3, 4], 10)]}, open("expected.json", "w"), indent=2)
