"""Outlines of any shape laid on the mat of a cutting machine, close together and never touching.

`kept_apart.py` says where an outline may not lie beside another, `free_places.py` where it may lie
on a mat, `nest.py` in which order they are laid and on which mat. What is laid is checked again by
distances of the outlines as they are (`MatPlan.closest`).
"""
