"""Stitch files: the only room that knows the stitch library."""
