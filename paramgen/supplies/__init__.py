"""What to have for a project, how much of it, and in which step it is first needed.

It is decided once (`all_supplies.py`), from the project, its hoop and its materials; booklet, plan
and printed table read it. What any project may need is listed in `shared/supplies.toml`, each with
the cases in which it is, of a closed set: no entry knows a recipe. A sheet of stabiliser is
reckoned from the field, as the sizes of frames are not known.
"""
