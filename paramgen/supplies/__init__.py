"""What to have for a project, how much of it, and in which step it is first needed."""
