"""From lines to needle points."""
