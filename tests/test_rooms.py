"""The rooms of the house: who may import whom, and what the pure ones may not do."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "coper"
ORDER = [
    "errors", "version", "arrays", "tolerances", "units", "search", "drawing", "shapes",
    "joint", "joint.fit", "joint.saw", "joint.regrind", "joint.tolerance",
    "frame", "bicycle", "bicycle.clearance", "bicycle.tracking",
    "bench", "bench.layout", "bench.assembly", "bench.cut_list", "job", "book",
    "telling", "telling.words", "telling.records",
    "pages", "sheets", "verbs", "cli", "page",
]
"""Rooms from the ground up, a sub-room after the room it stands in."""
PURE = {"arrays", "search", "drawing", "shapes", "joint", "frame", "bicycle", "bench", "telling",
        "pages", "sheets"}
WRITERS = {"drawing.svg", "drawing.pdf"}
FILES = sorted(PACKAGE.rglob("*.py"))
DOORS = {"__init__", "__main__"}
"""The public face and ``python -m coper``, which open on every room."""


def dotted(path):
    """``coper/joint/saw/kit.py`` as ``joint.saw.kit``, a package by its own name."""
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if len(parts) > 1 and parts[-1] == "__init__" else parts)


MODULES = {dotted(path): path for path in FILES}


def room(module):
    """The innermost room of the list that a module stands in."""
    parts = module.split(".")
    known = (".".join(parts[:end]) for end in range(len(parts), 0, -1))
    return next((name for name in known if name in ORDER), parts[0])


def names_imported(tree):
    """Every name that is imported, ``from package import module`` as ``package.module``."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written out from the top"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


TREES = {module: ast.parse(path.read_text()) for module, path in MODULES.items()}
NAMES = {module: set(names_imported(tree)) for module, tree in TREES.items()}


def inner(module):
    """The modules of the package that a module imports."""
    for name in NAMES[module]:
        top, _, rest = name.partition(".")
        if top == "coper" and rest:
            yield rest if rest in MODULES else rest.rpartition(".")[0]


@pytest.mark.parametrize("module", sorted(set(MODULES) - DOORS))
def test_a_file_imports_only_from_its_own_room_and_the_rooms_above(module):
    here = room(module)
    for target in inner(module):
        there = room(target)
        assert ORDER.index(there) <= ORDER.index(here), f"{here} imports {there} ({target})"


def test_a_module_that_is_imported_from_its_package_is_seen():
    tree = ast.parse("from coper.joint import cope\nfrom coper import errors")
    assert set(names_imported(tree)) == {"coper.joint.cope", "coper.errors"}
    assert room("joint.saw.kit") == "joint.saw" and room("joint.cope") == "joint"


def test_every_room_has_its_place_in_the_order():
    assert {room(module) for module in set(MODULES) - DOORS} <= set(ORDER)


def test_every_import_within_the_package_finds_its_module():
    for module in MODULES:
        assert set(inner(module)) <= set(MODULES), module


def test_no_import_runs_in_a_circle():
    done, open_now = set(), []

    def walk(module):
        assert module not in open_now, f"circle: {open_now}"
        if module in done:
            return
        open_now.append(module)
        for target in inner(module):
            walk(target)
        open_now.pop()
        done.add(module)

    for module in MODULES:
        walk(module)


@pytest.mark.parametrize(("library", "only"), [
    ("svgwrite", {"drawing.svg"}), ("matplotlib", {"drawing.pdf"})])
def test_a_writers_library_is_imported_in_one_file(library, only):
    assert {module for module, names in NAMES.items()
            if any(name.split(".")[0] == library for name in names)} == only


@pytest.mark.parametrize("module", [
    m for m in MODULES if room(m).split(".")[0] in PURE and m not in WRITERS])
def test_a_pure_room_reads_no_file_and_prints_nothing(module):
    forbidden = {"open", "print", "input"}
    calls = {node.func.id for node in ast.walk(TREES[module])
             if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
    assert not forbidden & calls
    assert not {"pathlib", "os", "sys"} & {name.split(".")[0] for name in NAMES[module]}


def test_an_inch_is_25_4_mm_in_one_file_only():
    using = {module for module, tree in TREES.items() for node in ast.walk(tree)
             if isinstance(node, ast.Constant) and node.value == 25.4}
    assert using == {"units.names"}


def test_importing_coper_loads_no_drawing_library():
    code = ("import sys, coper; "
            "print([m for m in ('matplotlib', 'svgwrite') if m in sys.modules])")
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "[]"
