"""Grading: many rows of a table made as packs, and a summary of them side by side.

A row knows what it was made from: `row.json` comes into place with its pack, in the same move, and
holds a digest of recipe, words, options, hoop and version, one of every file, and what the summary
says. So nothing else need be kept, no clock is asked, and a run killed at any moment is taken up
again. Rows are made by processes that start afresh and end with the one that started them; each row
leaves no garbage, and the summary reads one row at a time, so memory stays level.
"""
