"""The pictures, each by its name."""
