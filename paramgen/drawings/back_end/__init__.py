"""How what is drawn looks, and how it is written out."""
