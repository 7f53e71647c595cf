"""What is in a stitch file that anyone made: bytes in, a report out.

Files of others are read with distrust: the bytes are looked at before anything is unpacked
(`files/file_ends.py`), and what is then read is bounded (`files/read_any_kind.py`).
"""
