"""Stitch files: the only room that knows the stitch library.

Habits of the formats, each with a test: the extents in a DST header are rewritten (the library
gives them unsigned, y the wrong way round); VP3 gets one move so that its box has even sides (it
drops the fraction of the middle); JEF gets a fixed date; PES threads are described by their colour;
XXX stitches stay under the longest, which reads back as a move.
"""
