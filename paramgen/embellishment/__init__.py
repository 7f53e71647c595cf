"""Stitching on a panel for its looks."""
