"""What size, which hoop, what it holds: the whole check, asked many times.

Fitting asks all of `make` and nothing less, since a recipe's conditions and the rehearsal know no
formula to turn round. It does so sparingly: no answer is worked out twice, cheap parts come first
(numbers, stitches, rehearsal), and only the field depends on a hoop, so that one survey serves all
hoops and each is cut out of it.

Sizes that are named lie on what is shown, 1/16 in or 0.1 mm: ends of a range, nearest sizes, what a
refusal says would fit. So they agree, and a wish that works is met. Where each check takes long,
for what is held and from hoop to hoop, they lie on the coarser ruler mark.
"""
