"""Reference answers for blends of random shelves, from a solver that shares nothing with ours.

For each shelf the smallest worst deviation is found by bisection: "is there a mix with a
deviation of at most d?" is a mixed integer program in the scoops (scipy.optimize.milp, which
calls HiGHS). Whatever the solver offers is measured in exact fractions. A last program asks for
the fewest materials and then the fewest scoops at that deviation. Shelves small enough are also
gone through mix by mix, and both must agree.

Needs Python 3.11 and scipy 1.17; writes blend_reference.json beside itself:
    python make_blend_reference.py
"""

import itertools
import json
import pathlib
import random
from fractions import Fraction

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

SHELVES = 400
SMALL = 60_000
CLOSE = 1e-10


def draw(rng):
    """A shelf of 2 to 8 materials; decimals are kept as text so that nothing is rounded."""
    count = rng.randint(2, 8)
    kinds = ["n", "pk", "full", "full", "low", "k", "p"]
    materials = []
    for number in range(count):
        kind = rng.choice(kinds)
        tenth = lambda high: f"{rng.randint(1, high * 10) / 10:.1f}"
        grade = {
            "n": lambda: [tenth(46), "0", "0"],
            "pk": lambda: ["0", tenth(50), tenth(34)],
            "full": lambda: [str(rng.randint(1, 24)), str(rng.randint(0, 20)), str(rng.randint(0, 20))],
            "low": lambda: [tenth(4), tenth(3), tenth(9)],
            "k": lambda: [str(rng.choice([0, 0, 13])), "0", tenth(50)],
            "p": lambda: [tenth(11), tenth(52), "0"],
        }[kind]()
        low = rng.randint(500, 1300)
        high = low + rng.choice([0, 0, rng.randint(1, 200)])
        materials.append({
            "name": f"bag {number}",
            "grade": grade,
            "density": [f"{low / 1000:.3f}", f"{high / 1000:.3f}"],
            "max_scoops": rng.choice([12, 12, 12, rng.randint(1, 11)]),
        })
    target = rng.choice([[2, 1, 1]] * 4 + [[3, 1, 2], [4, 1, 2], [1, 1, 1], [1, 0, 0], [5, 0, 2],
                        [0, 1, 3], [rng.randint(1, 12), rng.randint(0, 9), rng.randint(1, 9)]])
    pairs = list(itertools.combinations(range(count), 2))
    apart = rng.sample(pairs, rng.choice([0, 0, 0, 1, min(2, len(pairs))]))
    most = rng.choice([4, 4, 4, rng.randint(1, count), count])
    by_weight = rng.random() < 0.2
    return {"materials": materials, "target": target, "apart": apart,
            "most_materials": most, "by_weight": by_weight}


def amounts(shelf):
    """What one scoop of each material brings, as fractions; the scoop's size drops out."""
    table = []
    for material in shelf["materials"]:
        low, high = map(Fraction, material["density"])
        weight = Fraction(1) if shelf["by_weight"] else (low + high) / 2
        table.append([Fraction(share) * weight for share in material["grade"]])
    return table


def deviation(table, target, scoops):
    sums = [sum(x * row[j] for x, row in zip(scoops, table)) for j in range(3)]
    total, whole = sum(sums), sum(target)
    if total == 0:
        return None
    off = []
    for held, part in zip(sums, target):
        share, wanted = held / total, Fraction(part, whole)
        off.append(abs(share - wanted) / wanted if part else share)
    return max(off)


class Program:
    """x scoops and y (0 or 1) bags of each material."""

    def __init__(self, shelf, table):
        self.shelf, self.table, self.n = shelf, table, len(table)
        caps = [m["max_scoops"] for m in shelf["materials"]]
        n, eye = self.n, np.eye(self.n)
        rows = [
            LinearConstraint(np.hstack([eye, -np.diag(caps)]), -np.inf, 0),
            LinearConstraint(np.hstack([eye, -eye]), 0, np.inf),
            LinearConstraint([[0] * n + [1] * n], -np.inf, shelf["most_materials"]),
            LinearConstraint([[1] * n + [0] * n], 1, np.inf),
        ]
        for a, b in shelf["apart"]:
            row = [0] * (2 * n)
            row[n + a] = row[n + b] = 1
            rows.append(LinearConstraint([row], -np.inf, 1))
        # A mix of nothing but noughts has no ratio.
        holds = [1 if sum(row) > 0 else 0 for row in table]
        rows.append(LinearConstraint([holds + [0] * n], 1, np.inf))
        self.rows = rows
        self.bounds = Bounds([0] * (2 * n), caps + [1] * n)

    def solve(self, goal, extra):
        result = milp(goal, constraints=self.rows + extra, bounds=self.bounds,
                      integrality=np.ones(2 * self.n), options={"mip_rel_gap": 0})
        if result.x is None:
            assert result.status == 2, result.message
            return None
        return [round(value) for value in result.x[: self.n]]

    def at_most(self, limit):
        """The conditions of a deviation of at most `limit`."""
        target, whole = self.shelf["target"], sum(self.shelf["target"])
        extra = []
        for j, part in enumerate(target):
            wanted = part / whole
            for sign in (1, -1):
                row = []
                for brought in map(lambda r: [float(v) for v in r], self.table):
                    total = sum(brought)
                    off = brought[j] - wanted * total
                    row.append(sign * off - limit * (wanted if part else 1.0) * total)
                largest = max(abs(v) for v in row)
                if largest > 0:
                    row = [v * 1e3 / largest for v in row]
                    extra.append(LinearConstraint([row + [0] * self.n], -np.inf, 0))
        return extra

    def brings_all(self):
        """Whether some mix holds a little of each wanted nutrient."""
        extra = []
        for j, part in enumerate(self.shelf["target"]):
            if part:
                row = [1 if brought[j] > 0 else 0 for brought in self.table]
                extra.append(LinearConstraint([row + [0] * self.n], 1, np.inf))
        return self.solve([0] * (2 * self.n), extra) is not None


def by_program(shelf, table):
    program = Program(shelf, table)
    if not program.brings_all():
        return None
    zero = [0] * (2 * program.n)
    best = program.solve(zero, [])
    high, low = deviation(table, shelf["target"], best), 0.0
    while high - low > CLOSE:
        middle = (float(high) + low) / 2
        scoops = program.solve(zero, program.at_most(middle))
        found = deviation(table, shelf["target"], scoops) if scoops else None
        if found is not None and found < high:
            high = found
        else:
            low = middle
    goal = [1] * program.n + [1000] * program.n
    scoops = program.solve(goal, program.at_most(float(high) + 1e-12))
    assert deviation(table, shelf["target"], scoops) == high, (shelf, scoops)
    return high, sum(x > 0 for x in scoops), sum(scoops)


def by_trying(shelf, table):
    """Every mix one by one, in whole numbers."""
    scale = 10 ** 5  # grades have one decimal, the middle of two densities four
    whole = np.array([[int(v * scale) for v in row] for row in table], dtype=object)
    assert all(Fraction(int(v), scale) == w for r, q in zip(whole, table) for v, w in zip(r, q))
    best = None
    for scoops in itertools.product(*[range(m["max_scoops"] + 1) for m in shelf["materials"]]):
        used = [i for i, x in enumerate(scoops) if x]
        if len(used) > shelf["most_materials"] or any(a in used and b in used for a, b in shelf["apart"]):
            continue
        found = deviation(table, shelf["target"], scoops)
        if found is None:
            continue
        key = (found, len(used), sum(scoops))
        if best is None or key < best:
            best = key
    return best


def main():
    rng = random.Random(20260101)
    cases, tried, refused = [], 0, 0
    while len(cases) < SHELVES:
        shelf = draw(rng)
        table = amounts(shelf)
        answer = by_program(shelf, table)
        if answer is None:
            refused += 1
            if refused > 60:
                continue
            cases.append(shelf | {"cannot": True})
            continue
        mixes = np.prod([m["max_scoops"] + 1 for m in shelf["materials"]])
        if mixes <= SMALL:
            tried += 1
            assert by_trying(shelf, table) == answer, (shelf, answer)
        best, bags, scoops = answer
        cases.append(shelf | {
            "deviation": float(best),
            "fraction": [str(best.numerator), str(best.denominator)],
            "materials_used": int(bags),
            "scoops": int(scoops),
        })
    head = {"made_by": "make_blend_reference.py", "solver": "scipy.optimize.milp (HiGHS)",
            "also_tried_mix_by_mix": tried}
    text = json.dumps(head)[:-1] + ',\n"cases": [\n'
    text += ",\n".join(json.dumps(case) for case in cases) + "\n]}\n"
    pathlib.Path(__file__).with_name("blend_reference.json").write_text(text)
    print(len(cases), "shelves,", tried, "also tried mix by mix")


if __name__ == "__main__":
    main()
