"""The booklet: what it says, and apart from it how it is set as a page and on paper.

Its pictures have letters in them and the words beside them, so that they can be read on a phone,
aloud, and three to a page. Cautions are one table, each with when it applies. Fractions on the page
are plain figures, raised and lowered: what fonts a device has is not known. On paper the library's
own font has them.
"""
