"""Papers: what a person prints, at full size."""
