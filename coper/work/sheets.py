"""Pages in the formats that were asked for; nothing is written here."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from coper.errors import FileError

if TYPE_CHECKING:
    from coper.drawing.page import Page


def sheet_files(
    pages: tuple[Page, ...], title: str, svg: Path | None, pdf: Path | None
) -> dict[Path, bytes]:
    """The pages in the formats that were asked for."""
    files: dict[Path, bytes] = {}
    if svg is not None:
        from coper.drawing.svg import svg_files

        files = svg_files(svg, pages)
    if pdf is not None:
        from coper.drawing.pdf import pdf_bytes

        files = together(files, {pdf: pdf_bytes(pages, title)})
    return files


def picture_file(page: Page, title: str, path: Path) -> dict[Path, bytes]:
    """One page in the format that the file's name ends in.

    Raises
    ------
    FileError
        Where it ends in none that is known.
    """
    match path.suffix.lower():
        case ".svg":
            from coper.drawing.svg import svg_text

            return {path: svg_text(page).encode()}
        case ".pdf":
            from coper.drawing.pdf import pdf_bytes

            return {path: pdf_bytes((page,), title)}
        case ".png":
            from coper.drawing.pdf import png_bytes

            return {path: png_bytes(page)}
    raise FileError(f"no picture can be written as {path.suffix or 'a name without an ending'}",
                    "end its name in .svg, .pdf or .png", str(path))


def together(files: dict[Path, bytes], more: dict[Path, bytes]) -> dict[Path, bytes]:
    """Both, refused where one name is in both: a later page of an SVG has a name of its own."""
    for path in more:
        if path in files:
            raise FileError("two outputs have the same name", "give each its own", str(path))
    return files | more
