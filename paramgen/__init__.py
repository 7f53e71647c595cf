"""Re-derive an in-hoop sewing project for any finished size and hoop."""

__version__ = "0.1.0"
