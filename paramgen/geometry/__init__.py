"""Plane geometry of outlines and stitched lines: no sewing words in here."""
