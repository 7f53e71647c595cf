"""The rehearsal: work the steps through on paper, and prove what the finished thing is."""
