"""Pictures: what is drawn, and apart from it how it is written out.

Lettering is reckoned wide, since no font is known before a picture is shown; nothing in a picture
is told by colour alone.
"""
