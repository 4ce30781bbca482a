"""Random joints of every shape through the whole command: done, or refused in one line."""

import json
import random

import pytest

from tests.cli.run import run
from tests.profiles import seeds

SIZES = [5, 10, 16, 22.2, 28.6, 38.1, 50, 100, 150]
MAINS = [16, 25.4, 31.8, 38.1, 60, 120]


def branch(chance):
    size, wall = chance.choice(SIZES), chance.choice([0.5, 0.9, 1.5, 3])
    return chance.choice([
        f"{size} x {wall}",
        f"{size} to {size * chance.uniform(0.5, 1.6):.2f} over {chance.choice([60, 390])} x {wall}",
        f"oval {size} by {size * chance.uniform(0.3, 0.95):.2f} x {wall}",
        f"oval {size} by {size * 0.6:.2f} to {size * 0.5:.2f} over 300 x {wall}",
        f"box {size} by {size * chance.uniform(0.3, 1.5):.1f} corner {size * 0.05:.2f} x {wall}",
    ])


def main(chance):
    size = chance.choice(MAINS)
    return chance.choice([
        f"{size}", f"{size} to {size * 0.6:.1f} over 90", f"oval {size} by {size * 0.6:.1f}",
        f"box {size} by {size * 0.7:.1f} corner 2", f"box {size} by {size * 0.7:.1f}", "plate 6",
        f"{size} bent to {size * chance.uniform(0.6, 5):.0f}",
    ])


def turn(chance):
    return f"{chance.choice([0, chance.uniform(-180, 180)]):.1f}"


@pytest.mark.parametrize("seed", seeds(40))
def test_a_random_joint_is_done_or_refused_in_one_line(seed, tmp_path):
    chance = random.Random(seed)
    sheet = tmp_path / "sheet.svg"
    status, out, err = run(
        "joint", branch(chance), main(chance), "--angle", f"{chance.uniform(3, 177):.2f}",
        "--offset", f"{chance.uniform(-20, 20):.2f}", "--turn", turn(chance),
        "--main-turn", turn(chance), "--cut", chance.choice(["bevelled", "square"]),
        "--steps", "8", "--svg", str(sheet), *chance.choice([("--json",), ()]))
    assert status in (0, 2)
    if status == 2:
        assert out == "" and err.count("\n") == 1 and not list(tmp_path.iterdir())
        return
    assert err == "" and "nan" not in out and "nan" not in sheet.read_text()
    if out.startswith("{"):
        json.loads(out)


def test_most_of_the_random_tubes_make_a_joint_at_70_degrees():
    made = 0
    for seed in range(20):
        chance = random.Random(seed)
        words = branch(chance), main(chance)
        made += run("joint", *words, "--angle", "70", "--steps", "8")[0] == 0
    assert made >= 12
