"""What a person's own fabrics look like: a colour, or a picture of a print, that anyone made.

A picture is taken by what it holds and not by its name, bounded before it is unpacked, turned as
its camera says, and made small, so that drawings stay small; it leaves the machine nowhere but in
them. The way up of a print is the picture's.
"""
