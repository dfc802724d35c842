"""Compares the committed page with one made anew: the same words, figures within sampling error.

Usage: check_page.py COMMITTED NEW. Prints every line that differs; exit code 1 where there is one. A figure may
differ only where it was counted: another mathematical library may turn a reading over at the last digit, and
with it a session, but not what is claimed.
"""
import math
import re
import sys

# What was counted, as the program writes it; everything else on the page has to be the same.
COUNTED = re.compile(
    r"(?P<share>\d+(?:\.\d+)?) % of (?P<of>\d+)"
    r"|(?P<sign>[−+])(?P<deviation>\d+\.\d) se"
    r"|chi-square (?P<chi>\d+\.\d) \((?P<chi_limit>\d+\.\d)\), D (?P<d>\d\.\d+) \((?P<d_limit>\d\.\d+)\)"
    r"|(?P<mean>\d+(?:\.\d+)?)(?= members| kg once| kg twice| with every position)"
    r"|(?P<count>\d+) of (?P<total>\d+)(?= not solved| sessions have)"
)
WIDE = 4 * math.sqrt(2)  # four standard errors of the difference of two such counts


def near_share(a, b):
    (p, n), (q, m) = [(float(x["share"]) / 100, int(x["of"])) for x in (a, b)]
    spread = max(p * (1 - p), q * (1 - q), 1 / min(n, m)) / min(n, m)
    return abs(p - q) <= WIDE * math.sqrt(spread) + 0.01 and abs(n - m) <= WIDE * math.sqrt(max(n, m)) + 1


def signed(match):
    return float(match["deviation"]) * (-1 if match["sign"] == "−" else 1)


def near(a, b):
    if a["share"] and b["share"]:
        return near_share(a, b)
    if a["deviation"] and b["deviation"]:
        return abs(signed(a) - signed(b)) <= WIDE
    if a["chi"] and b["chi"]:  # variance of a chi-square is twice its freedom, nine here
        return (abs(float(a["chi"]) - float(b["chi"])) <= WIDE * math.sqrt(18) and a["chi_limit"] == b["chi_limit"]
                and abs(float(a["d"]) - float(b["d"])) <= float(a["d_limit"]))
    if a["mean"] and b["mean"]:
        return abs(float(a["mean"]) - float(b["mean"])) <= 0.1 * float(a["mean"])
    if a["count"] and b["count"]:
        return abs(int(a["count"]) - int(b["count"])) <= WIDE * math.sqrt(max(int(a["count"]), 1))
    return False


def same_line(a, b):
    if COUNTED.sub("#", a) != COUNTED.sub("#", b):
        return False
    return all(near(x, y) for x, y in zip(COUNTED.finditer(a), COUNTED.finditer(b)))


def main():
    committed, new = [open(name, encoding="utf-8").read().splitlines() for name in sys.argv[1:3]]
    different = [(a, b) for a, b in zip(committed, new) if not same_line(a, b)]
    for a, b in different:
        print(f"committed: {a}\nnew:       {b}\n")
    if len(committed) != len(new):
        print(f"the committed page has {len(committed)} lines, the new one {len(new)}")
    if different or len(committed) != len(new):
        print("make it anew with: bash tests/proof/run.sh")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
