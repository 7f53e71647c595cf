"""Folders of files as one zip file: the same files, the same bytes."""

import io
import zipfile
from collections.abc import Mapping

from paramgen.pack.seal import SEAL, seal

#: The earliest that a zip file can say: no file of ours has a date.
_DATE = (1980, 1, 1, 0, 0, 0)
#: A plain file that everyone may read, as zip files say it for Unix.
_UNIX, _MODE = 3, 0o100644 << 16


def zipped(
    folders: Mapping[str, Mapping[str, bytes]], loose: Mapping[str, bytes] | None = None
) -> bytes:
    """Put folders into one zip file.

    Each has the mark of this program, as `put_in_place.place` writes it: unpacked, it is the same
    folder, and is replaced as one.

    Parameters
    ----------
    folders : mapping of name to files
    loose : mapping of file name to bytes, or None
        Files beside them.
    """
    files = dict(loose or {})
    for name, contents in folders.items():
        files |= {f"{name}/{file}": data for file, data in contents.items()}
        files[f"{name}/{SEAL}"] = seal(contents)
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        for name in sorted(files):
            info = zipfile.ZipInfo(name, _DATE)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.create_system, info.external_attr = _UNIX, _MODE
            archive.writestr(info, files[name])
    return written.getvalue()
