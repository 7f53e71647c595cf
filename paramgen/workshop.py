"""A workshop keeps what was read and worked out: what is asked again is there at once.

Orders come in, attempts go out. An attempt raises nothing for what is found: whoever shows it
decides what to do with a project that cannot be made.
"""

from collections.abc import Collection, Sequence

from paramgen.fit.remembered_checks import RememberedChecks
from paramgen.making import Attempt, Made, Order
from paramgen.recipe.read_recipe import Recipe, RecipeSource, find_source
from paramgen.reference.hoops import Hoop, listed
from paramgen.works import Kept, Works

#: So many recipes, orders tried and questions about sizes are kept.
MOST_RECIPES, MOST_ATTEMPTS, MOST_ASKINGS = 64, 8, 16


class Workshop:
    """Where orders are tried and sizes asked about.

    All is kept by what it was worked out from, the text of a recipe and not its name, and what
    was asked for longest ago goes first, so that no more than some hundred megabytes are taken.

    Parameters
    ----------
    hoops : sequence of Hoop or None
        Those there are; the listed ones if None.

    Examples
    --------
    >>> from paramgen.hooping import Room
    >>> from paramgen.reference.hoops import find_hoop
    >>> workshop = Workshop()
    >>> room = Room(find_hoop("5x7in", workshop.hoops))
    >>> mat = Order(workshop.recipe("coaster"), {"width": "4 in"}, room)
    >>> attempt = workshop.attempt(mat)
    >>> attempt.made is not None, attempt.project.pieces[0].name
    (True, 'batting')

    What cannot be made is still there to be looked at, with why not:

    >>> large = workshop.attempt(Order(mat.recipe, {"width": "200 mm"}, room))
    >>> large.made is None, large.project is not None, [one.code for one in large.findings]
    (True, True, ['hoop-exceeded'])
    """

    def __init__(self, hoops: Sequence[Hoop] | None = None) -> None:
        self.hoops = tuple(listed() if hoops is None else hoops)
        self.works = Works()
        self._recipes = Kept[Recipe](MOST_RECIPES)
        self._attempts = Kept[Attempt](MOST_ATTEMPTS)
        self._askings = Kept[RememberedChecks](MOST_ASKINGS)

    def recipe(self, wanted: str) -> Recipe:
        """A recipe by its name, or any by the path of its file, as it is now.

        Raises
        ------
        InputError
            If there is no such recipe or file, or it has faults.
        """
        return self.read(find_source(wanted))

    def read(self, source: RecipeSource) -> Recipe:
        """A recipe from its file as it was found; raises InputError with its faults."""
        return self._recipes.get(source, source.read)

    def attempt(self, order: Order, hoops: Sequence[Hoop] | None = None) -> Attempt:
        """Try an order.

        Parameters
        ----------
        order : Order
        hoops : sequence of Hoop or None
            Among them one that takes it is looked for if its own does not; the workshop's if None.
        """
        there = self.hoops if hoops is None else tuple(hoops)
        return self._attempts.get(
            (order.key, there), lambda: Attempt(order, there, works=self.works)
        )

    def make(self, order: Order, hoops: Sequence[Hoop] | None = None) -> Made:
        """A sound project in its hoop.

        Raises
        ------
        InputError
            If what is asked is wrong.
        CannotMakeError
            If it cannot be made as asked: every finding.
        """
        return self.attempt(order, hoops).sound

    def asking(self, order: Order, heeds: Collection[str] = ()) -> RememberedChecks:
        """Ask about other sizes of an order, going on from what was asked before.

        Raises
        ------
        InputError
            If what is asked is wrong.
        """
        key = (order.key, frozenset(heeds))
        return self._askings.get(key, lambda: RememberedChecks(order, heeds, self.works))
