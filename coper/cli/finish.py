"""How every verb ends: its files written, then one JSON object or lines, then the status."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import Final

from coper.cli.console import Console
from coper.cli.terminal import set_lines
from coper.drawing.page import Page
from coper.errors import FileError
from coper.verbs.answer import Answer

FALLS_SHORT: Final = 1
"""Exit status where the work was done, but a check that was asked for fails."""


def finish(answer: Answer[object], arguments: Namespace, out: Console) -> int:
    """Write what was asked for, print the answer; the exit status.

    The whole answer is there before a file is written, so that neither is left without the other
    where it cannot be given.
    """
    if arguments.json:
        import json

        lines = [json.dumps(answer.record(), allow_nan=False)]
    else:
        lines = list(set_lines(answer.lines(), out.spelt))
    written = (*_write_files(answer, arguments), *_write_packet(answer, arguments))
    for line in lines:
        out.line(line)
    for words in () if arguments.json else written:
        out.line(f"wrote {words}")
    return 0 if answer.ok else FALLS_SHORT


def _write_files(answer: Answer[object], arguments: Namespace) -> tuple[str, ...]:
    """Write every file that an option asks for, all or nothing; their names."""
    files = _page_files(answer, arguments)
    for option, content in answer.files.items():
        path = getattr(arguments, option)
        if path is not None:
            files = _together(files, {path: content()})
    if files:
        from coper.cli.files import write_whole

        write_whole(files, arguments.force)
    return tuple(map(str, files))


def _page_files(answer: Answer[object], arguments: Namespace) -> dict[Path, bytes]:
    """The answer's pages, in the formats that were asked for."""
    svg, pdf, picture = (getattr(arguments, name, None) for name in ("svg", "pdf", "picture"))
    if svg is None and pdf is None and picture is None:
        return {}
    pages = answer.pages(arguments.progress)
    if picture is not None:
        return {picture: _picture(pages[0], answer.title, picture)}
    return sheet_files(pages, answer.title, svg, pdf)


def sheet_files(
    pages: tuple[Page, ...], title: str, svg: Path | None, pdf: Path | None
) -> dict[Path, bytes]:
    """The pages as SVG, a file a page, and as one PDF."""
    files: dict[Path, bytes] = {}
    if svg is not None:
        from coper.drawing.svg import svg_files

        files = svg_files(svg, pages)
    if pdf is not None:
        from coper.drawing.pdf import pdf_bytes

        files = _together(files, {pdf: pdf_bytes(pages, title)})
    return files


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

    stem = Path(arguments.file).stem
    pdf = folder / f"{stem}.pdf"
    try:
        pages = answer.pages(arguments.progress)
        files = sheet_files(pages, answer.title, folder / f"{stem}.svg", pdf)
    finally:
        arguments.progress.done()
    write_own(folder, stem, {path.name: content for path, content in files.items()},
              arguments.force)
    return (f"{pdf}, and each of its {len(pages)} pages as SVG beside it",)


def _together(files: dict[Path, bytes], more: dict[Path, bytes]) -> dict[Path, bytes]:
    """Both, refused where one name is in both: a later page of an SVG has a name of its own."""
    for path in more:
        if path in files:
            raise FileError("two outputs have the same name", "give each its own", str(path))
    return files | more
