"""Pictures: what is drawn, and apart from it how it is written out."""
