"""Recipe files: read strictly, checked whole, frozen."""
