"""The rehearsal: work the steps through on paper, and prove what the finished thing is.

It knows no recipe. All edges and stitched lines cut the plane into faces, each with a constant
stack of sheets. Between neighbouring sheets lies a space; two spaces in neighbouring faces are
joined unless a stitch on their common edge binds the sheets on both sides. Where a sheet ends, the
spaces above and below it meet. The joined spaces are the hollows of the real thing: what shows,
what opens, what is sewn shut and what goes in all follow from them. Lines that neither open nor
close anything that shows stay out of the cut (`lines_left_out.py`). It looks at curves more
coarsely than the stitching does, far below any limit it judges by.
"""
