"""From numbers to shapes: pieces, lines and steps lying in the hoop."""
