"""Papers that cannot be typeset on this system, and what to install for them."""

from paramgen.papers.typeset import PACKAGE, can_typeset


def left_out() -> tuple[str, ...]:
    """File names of the papers that are left out; none where they can be typeset."""
    if can_typeset():
        return ()
    from paramgen.pack.pack_files import PDFS  # it loads all that draws

    return PDFS


def left_out_text() -> str:
    """Say which papers are left out, and what mends it; empty if none is."""
    *names, last = left_out() or ("",)
    if not last:
        return ""
    return (
        f"Left out: {', '.join(names)} and {last}. They are set with the package {PACKAGE}, which "
        f"is not installed here. Install it with `pip install {PACKAGE}` if there is one for your "
        "system, and ask again. All else is whole."
    )
