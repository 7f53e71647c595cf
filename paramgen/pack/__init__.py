"""The folder a person gets: what is in it, and putting it in place whole or not at all."""
