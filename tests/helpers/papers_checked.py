"""Whether a PDF holds together and is tagged: read by `pdfinfo`, by pypdf, and byte by byte."""

import io
import logging
import re
import shutil
import subprocess
from collections.abc import Iterator
from typing import Any

import pypdf


def complaints(pdf: bytes) -> list[str]:
    """Everything that any of the three finds wrong."""
    return [*_table_of_objects(pdf), *_tags(pdf), *_told_by_pdfinfo(pdf)]


def _table_of_objects(pdf: bytes) -> Iterator[str]:
    """ISO 32000-1, 7.5.4: every entry says at which byte its object begins."""
    start = int(pdf.rpartition(b"startxref\n")[2].split()[0])
    table = pdf[start:]
    found = re.match(rb"xref\s+0 (\d+)\s+", table)
    if not found:
        yield "the file does not end with a table of objects"
        return
    count = int(found[1])
    for number in range(count):
        entry = table[found.end() + 20 * number :][:20]
        if not re.fullmatch(rb"\d{10} \d{5} [nf](?: \r| \n|\r\n)", entry):
            yield f"entry {number} of the table of objects is {entry!r}"
        elif entry[17:18] == b"n":
            at = int(entry[:10])
            if not re.match(rb"%d %d obj\b" % (number, int(entry[11:16])), pdf[at : at + 24]):
                yield f"object {number} is not at byte {at}"


def _tags(pdf: bytes) -> Iterator[str]:
    """ISO 14289-1, 7.1 and 7.2: marked, without suspects, with a tree, a title and a language."""
    heard = io.StringIO()
    handler = logging.StreamHandler(heard)
    logging.getLogger("pypdf").addHandler(handler)
    try:
        reader = pypdf.PdfReader(io.BytesIO(pdf), strict=True)
        root: Any = reader.trailer["/Root"]
        marks = root.get("/MarkInfo", {})
        if marks.get("/Marked") != pypdf.generic.BooleanObject(True):
            yield "it does not say that it is tagged"
        if "/Suspects" in marks:
            yield "it speaks of suspects"
        if root["/StructTreeRoot"]["/Type"] != "/StructTreeRoot":
            yield "it has no tree of tags"
        if not root.get("/Lang") or not root["/ViewerPreferences"]["/DisplayDocTitle"]:
            yield "it has no language, or does not show its title"
        if not (reader.metadata and reader.metadata.title):
            yield "it has no title"
        for number, page in enumerate(reader.pages, 1):
            if "/StructParents" not in page:
                yield f"page {number} has no tags"
    finally:
        logging.getLogger("pypdf").removeHandler(handler)
    if heard.getvalue():
        yield f"pypdf: {heard.getvalue().strip()}"


def _told_by_pdfinfo(pdf: bytes) -> Iterator[str]:
    program = shutil.which("pdfinfo")
    if program is None:
        return
    ran = subprocess.run([program, "-"], input=pdf, capture_output=True, check=False)
    said = ran.stdout.decode()
    if ran.stderr or ran.returncode:
        yield f"pdfinfo: {ran.stderr.decode().strip()}"
    if not re.search(r"^Tagged: +yes$", said, re.MULTILINE):
        yield "pdfinfo: not tagged"
