"""What to buy for many of a project, and how to cut it: from materials to one folder.

Cloth is cut as people cut it: strips across the width with a rotary cutter, pieces from strips, a
cut that trims those lower than their strip. Which strips is a cutting-stock problem
(`strip_choice.py`): what it finds is proven least, or stands beside what no plan can do better
than. Whole numbers in it are `FINEST` parts of a millimetre, so that nothing is lost to rounding.

Of the same materials are told thread, time, price and settings, each a `KitSection` of its own that
page and paper set alike.
"""
