"""What every room speaks of: paths, boxes, kinds, the project, what is found."""
