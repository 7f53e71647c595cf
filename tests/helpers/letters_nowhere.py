"""Letters that no font here has: signs that few have ever written, or a seedling."""

from paramgen.papers.typeset import can_set

NOWHERE, NOR = [one for one in "\U00012000\U0001b170\U00013000\U00016800🌱" if not can_set(one)][:2]
