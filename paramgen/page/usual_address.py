"""Where the page listens where nothing else is said; known without loading what serves it."""

#: This machine alone.
LOOPBACK = "127.0.0.1"

#: Always the same, so that addresses that were kept stay good.
PORT = 7316
