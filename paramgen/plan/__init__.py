"""plan.json: every number of a project in one file, with its schema."""
