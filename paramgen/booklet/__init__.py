"""The booklet: what it says, and apart from it how it is set as a page and on paper."""
