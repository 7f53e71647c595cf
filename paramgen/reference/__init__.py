"""Reference data that recipes share: hoops, papers, things to hold, materials, supplies."""
