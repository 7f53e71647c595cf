"""Findings put in words: sentences from a file, in the person's unit.

Another language is another file beside `english.toml`, by whose name it is loaded. A finding that
is found in several ways has a sentence for each, by its variant.
"""
