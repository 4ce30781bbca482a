"""The rooms of the house: who may import whom, and what the pure ones may not do."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "coper"
ORDER = ["errors", "version", "tolerances", "units", "shapes", "joint", "frame", "job", "paper",
         "work", "cli", "page"]
PURE = {"shapes", "joint", "frame"}
FILES = sorted(PACKAGE.rglob("*.py"))


def room(path):
    return path.relative_to(PACKAGE).with_suffix("").parts[0]


def imports(path):
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module or ""


def inner(path):
    return [PACKAGE.joinpath(*part.split(".")[1:]) for part in imports(path)
            if part.startswith("coper.")]


@pytest.mark.parametrize("path", FILES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_a_file_imports_only_from_its_own_room_and_the_rooms_above(path):
    here = room(path)
    if here in ("__init__", "__main__"):
        return
    for target in inner(path):
        there = room(target.with_suffix(".py"))
        assert ORDER.index(there) <= ORDER.index(here), f"{here} imports {there}"


def test_every_room_has_its_place_in_the_order():
    rooms = {room(path) for path in FILES} - {"__init__", "__main__"}
    assert rooms <= set(ORDER)


def test_no_import_runs_in_a_circle():
    graph = {path.with_suffix(""): inner(path) for path in FILES}
    done, open_now = set(), []

    def walk(node):
        assert node not in open_now, f"circle: {open_now}"
        if node in done or node not in graph:
            return
        open_now.append(node)
        for target in graph[node]:
            walk(target)
        open_now.pop()
        done.add(node)

    for node in graph:
        walk(node)


@pytest.mark.parametrize(("library", "only"), [
    ("svgwrite", {"paper/svg.py"}), ("matplotlib", {"paper/pdf.py"})])
def test_a_writers_library_is_imported_in_one_file(library, only):
    using = {str(path.relative_to(PACKAGE)) for path in FILES
             if any(name.split(".")[0] == library for name in imports(path))}
    assert using == only


@pytest.mark.parametrize("path", [p for p in FILES if room(p) in PURE],
                         ids=lambda p: str(p.relative_to(PACKAGE)))
def test_a_pure_room_reads_no_file_and_prints_nothing(path):
    forbidden = {"open", "print", "input"}
    calls = [node.func.id for node in ast.walk(ast.parse(path.read_text()))
             if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)]
    assert not forbidden & set(calls)
    assert not {"pathlib", "os", "sys", "io"} & set(imports(path))


def test_an_inch_is_25_4_mm_in_one_file_only():
    using = {str(path.relative_to(PACKAGE)) for path in FILES
             for node in ast.walk(ast.parse(path.read_text()))
             if isinstance(node, ast.Constant) and node.value == 25.4}
    assert using == {"units.py"}


def test_importing_coper_loads_no_drawing_library():
    code = ("import sys, coper; "
            "print([m for m in ('matplotlib', 'svgwrite') if m in sys.modules])")
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "[]"
