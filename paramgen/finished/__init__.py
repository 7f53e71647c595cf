"""The finished thing: where hands put the parts after the last stitch, in plain millimetres."""
