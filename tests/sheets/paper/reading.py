"""Reads paper as people and their phones do: with programs that know nothing of ours."""

import subprocess
from pathlib import Path


def text_of(pdf: bytes, folder: Path, *, layout: bool = True) -> str:
    """The words of a PDF as pdftotext finds them, pages apart by form feeds."""
    file = folder / "sheet.pdf"
    file.write_bytes(pdf)
    how = "-layout" if layout else "-raw"
    told = subprocess.run(["pdftotext", how, file, "-"], capture_output=True, text=True, check=True)
    return told.stdout


def pages_of(pdf: bytes, folder: Path, dpi: int = 150, *how: str) -> list[Path]:
    """Its pages as pictures. how: further words for pdftoppm."""
    (folder / "sheet.pdf").write_bytes(pdf)
    for old in folder.glob("page*.png"):
        old.unlink()
    command = ["pdftoppm", "-r", str(dpi), "-png", *how, folder / "sheet.pdf", folder / "page"]
    subprocess.run(command, check=True)
    return sorted(folder.glob("page*.png"))


def codes_on(pictures: list[Path]) -> list[str]:
    """What the square codes on pictures say, read by zbar."""
    only_square = ["-Sdisable", "-Sqrcode.enable"]
    command = ["zbarimg", "--quiet", "--raw", "--nodbus", *only_square, *map(str, pictures)]
    told = subprocess.run(command, capture_output=True, text=True, check=False)
    assert told.returncode in (0, 4), told.stderr  # 4: no code was found
    return told.stdout.split()


def codes_in(pdf: bytes, folder: Path, *, first: bool = False) -> list[str]:
    """What the square codes of a PDF say; first: of its first page only."""
    only = ("-l", "1") if first else ()
    return codes_on(pages_of(pdf, folder, 120, "-gray", *only))


def same_words(text: str) -> str:
    """Words without their spaces: a narrow column breaks them elsewhere."""
    # Spanish repeats the hyphen at which a word is broken
    return "".join(text.replace("-\n-", "-").split())
