"""What size, which hoop, what it holds: the whole check, asked many times."""
