"""What is in a stitch file that anyone made: bytes in, a report out."""
