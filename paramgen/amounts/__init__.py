"""What one hooping of a project takes, in millimetres and counts that can be summed.

Supplies word it, the booklet and the page show it, kits add it up: each number is decided here and
nowhere else. Nothing is rounded as it is sold, and nothing has a unit of the person's.
"""
