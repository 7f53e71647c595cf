"""What every room speaks of: paths, boxes, kinds, the project, what is found.

A finding carries facts and no sentence (`facts.py`), so the unit, the words and the language can
change with nothing worked out again. A recipe, its checks and its readers take kinds from one place
(`kinds.py`), so that none can name what another does not know.
"""
