"""Loaded first by the process that others branch off from: it looks for no garbage while it loads.

All that it loads stays. Those that branch off begin to look once they have loaded their own tasks
(`worker_side.py`).
"""

import gc

gc.disable()
