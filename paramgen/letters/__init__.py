"""Letters of our own drawing, as strokes of a pen: which there are, and how they stand in words.

A letter is a few strokes of straight lines and arcs, in hundredths of the height of a capital. Sewn
as they are they make a single line; as wide as a pen, satin. So both alphabets are one drawing.
Nothing here knows of stitches: `embellishment/words.py` sews them.
"""
