"""How every verb ends: its files written, then one JSON object or lines, then the status."""

from __future__ import annotations

import itertools
from argparse import Namespace
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Any, Final

from coper.cli.console import Console
from coper.cli.terminal import set_lines
from coper.drawing.page import Page
from coper.errors import FileError
from coper.units import lengths_in
from coper.verbs.answer import Answer

FALLS_SHORT: Final = 1
"""Exit status where the work was done, but a check that was asked for fails."""


def finish(answer: Answer[object], arguments: Namespace, out: Console) -> int:
    """Write what was asked for, print the answer; the exit status.

    The whole answer is there before a file is written, so that neither is left without the other
    where it cannot be given.
    """
    record: dict[str, Any] = {}
    if arguments.json:
        with lengths_in("mm"):
            record = answer.record()
        lines = [_json(record)]
    else:
        lines = list(set_lines(answer.lines(), out.spelt))
    written = (*_write_files(answer, arguments), *_write_packet(answer, arguments))
    kept = answer.keep()
    if kept is not None:
        lines = [_json({**record, "book": kept.record})] if arguments.json else [
            *lines, *set_lines(kept.lines, out.spelt)]
    for line in lines:
        out.line(line)
    for words in () if arguments.json else written:
        out.line(f"wrote {words}")
    return 0 if answer.ok else FALLS_SHORT


def _json(record: dict[str, Any]) -> str:
    import json

    return json.dumps(record, allow_nan=False)


def _write_files(answer: Answer[object], arguments: Namespace) -> tuple[str, ...]:
    """Write every file that an option asks for, all or nothing; their names."""
    svg, pdf, picture, *others = (getattr(arguments, name, None) for name in (
        "svg", "pdf", "picture", *answer.files))
    if all(path is None for path in (svg, pdf, picture, *others)):
        return ()
    from coper.cli.files import write_whole

    pages: Collection[Page] = ()
    if not (svg is None and pdf is None and picture is None):
        pages = answer.pages(arguments.progress)

    def files() -> Iterator[tuple[Path, bytes]]:
        if picture is not None:
            yield picture, _picture(next(iter(pages)), answer.title, picture)
        yield from sheet_files(pages, answer.title, svg, pdf)
        for path, content in zip(others, answer.files.values(), strict=True):
            if path is not None:
                yield path, content()

    force = getattr(arguments, "force", False)
    stale = older_pages(svg, len(pages)) if svg is not None and force else ()
    return tuple(map(str, write_whole(files(), force, stale)))


def sheet_files(
    pages: Collection[Page], title: str, svg: Path | None, pdf: Path | None
) -> Iterator[tuple[Path, bytes]]:
    """The pages as SVG, a file a page, and as one PDF; each page is gone through once."""
    if pdf is not None:
        from coper.drawing.pdf import Document

        document = Document(title)
        each = document.adding(pages)
    else:
        each = iter(pages)
    if svg is not None:
        from coper.drawing.svg import svg_files

        yield from svg_files(svg, each)
    if pdf is not None:
        for _ in each:  # the pages that no SVG was wanted of
            pass
        yield pdf, document.content()


def older_pages(svg: Path, count: int) -> Iterator[Path]:
    """SVG files that go on after ``count`` pages: the rest of an earlier, longer run."""
    from coper.drawing.svg import page_path
    from coper.pages.paper import page_letter

    for index in itertools.count(count):
        letter = page_letter(index)
        path = page_path(svg, index, letter)
        try:
            if path.is_symlink() or f">page {letter} of ".encode() not in path.read_bytes():
                return
        except OSError:
            return
        yield path


def _picture(page: Page, title: str, path: Path) -> bytes:
    """One page in the format that the file's name ends in."""
    match path.suffix.lower():
        case ".svg":
            from coper.drawing.svg import svg_text

            return svg_text(page).encode()
        case ".pdf":
            from coper.drawing.pdf import pdf_bytes

            return pdf_bytes((page,), title)
        case ".png":
            from coper.drawing.pdf import png_bytes

            return png_bytes(page)
    raise FileError(f"coper cannot draw a picture as {path.suffix or 'a name without an ending'}",
                    "end its name in .svg, .pdf or .png", str(path))


def _write_packet(answer: Answer[object], arguments: Namespace) -> tuple[str, ...]:
    """Fill the folder that was asked for: the pages as one PDF, and each as SVG; in words."""
    folder = getattr(arguments, "out", None)
    if folder is None:
        return ()
    from coper.cli.own_files import write_own

    job = Path(arguments.file)
    svg, pdf = (folder / f"{job.stem}{ending}" for ending in (".svg", ".pdf"))
    try:
        pages = answer.pages(arguments.progress)
        files = ((path.name, content)
                 for path, content in sheet_files(pages, answer.title, svg, pdf))
        write_own(folder, job, files, arguments.force,
                  older_pages(svg, len(pages)) if arguments.force else ())
    finally:
        arguments.progress.done()
    return (f"{pdf}, and each of its {len(pages)} pages as SVG beside it",)
