"""Names of a recipe in a message: each reads as its field is labelled, and leads there."""

import re
from collections.abc import Iterable

from markupsafe import Markup, escape


def label_of(name: str) -> str:
    """A name of a recipe as words.

    Examples
    --------
    >>> label_of("packet_width")
    'packet width'
    """
    return name.replace("_", " ").replace("-", " ")


def with_labels(text: str, names: Iterable[str], address: str) -> Markup:
    """Put labels for the names in a message.

    Names that are one word are words of the message too, and are labelled by themselves.

    Parameters
    ----------
    text : str
    names : iterable of str
        Those that have a field.
    address : str
        Of the project, for views that have no form.

    Examples
    --------
    >>> print(with_labels("Set zip_at to < 9 mm.", ["zip_at"], "recipe=pouch"))
    Set <a href="/project?recipe=pouch#f-zip_at" data-field>zip at</a> to &lt; 9 mm.
    """
    compound = sorted(one for one in names if "_" in one)
    if not compound:
        return escape(text)
    found = re.compile(rf"`?\b({'|'.join(map(re.escape, compound))})\b`?")

    def link(match: re.Match[str]) -> str:
        where = f"/project?{escape(address)}#f-{match[1]}"
        return f'<a href="{where}" data-field>{label_of(match[1])}</a>'

    return Markup(found.sub(link, str(escape(text))))
