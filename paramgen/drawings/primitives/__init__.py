"""What is drawn: lines, areas and words, and nothing of how it is written out."""
