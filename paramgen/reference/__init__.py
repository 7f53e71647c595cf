"""Reference data that recipes share: hoops and, in time, papers and things to hold."""
