"""Several copies of a project in one hooping."""
