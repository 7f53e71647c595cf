"""A recipe of a person's own, begun for them: from a few answers to a file that can be made.

What is asked is in `wanted_recipe.py`, what goes with what there too. The texts in `text/` are
recipes with choices in them: `<% %>` decides what stands in the file, `<< >>` is filled in. What
comes of them uses the parts that come with the program, is commented, and is tried in a hoop
before it is given to anyone.
"""
