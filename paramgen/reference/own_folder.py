"""Where a person's own reference data lie."""

from pathlib import Path


def own(name: str) -> Path:
    """Tell where a person's own file of this name is read from; it need not be there."""
    from platformdirs import user_config_path  # noqa: PLC0415 (only an edge asks)

    return user_config_path("paramgen", appauthor=False) / name
