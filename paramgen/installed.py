"""Where the recipes and the reference data lie on this machine.

Both folders lie at the top of a checkout and inside the package once built; the build moves them
(`pyproject.toml`), and an editable install copies nothing.
"""

from pathlib import Path

PACKAGE = Path(__file__).resolve().parent


def templates(package: Path = PACKAGE) -> Path:
    """Folder of the recipes that come with the program; see `shared` for the rest."""
    return _folder("templates", package)


def shared(package: Path = PACKAGE) -> Path:
    """Folder of the reference data that recipes share.

    Parameters
    ----------
    package : Path
        Folder of the package. A built install holds the data inside it; an editable
        install runs from a checkout, which holds the data beside it.

    Raises
    ------
    ParamgenError
        If it is in neither place: the install is incomplete.
    """
    return _folder("shared", package)


def _folder(name: str, package: Path) -> Path:
    built = package / name
    if built.is_dir():
        return built
    checkout = package.parent / name
    # Beside an installed package lie other packages: only a checkout has this file.
    if checkout.is_dir() and (package.parent / "pyproject.toml").is_file():
        return checkout
    from paramgen.vocabulary.findings import ParamgenError  # noqa: PLC0415 (`list` starts faster without)

    raise ParamgenError(
        f"The folder `{name}` of paramgen is missing: it is neither {built} nor {checkout}. "
        "Install paramgen again."
    )
