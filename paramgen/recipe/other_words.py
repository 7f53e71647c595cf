"""What people call by another word: leads to what a recipe has."""

from paramgen.recipe.language import RecipeFile


def option_meant(word: str, file: RecipeFile, name: str = "") -> tuple[str, ...]:
    """Tell what to ask for where a word for an option is not its name, or stands elsewhere.

    Parameters
    ----------
    word : str
        As it was typed: `hexagon`.
    file : RecipeFile
    name : str
        The choice that it was typed for: its other words are looked at first.

    Returns
    -------
    tuple of str
        NAME=VALUE each: `outline=polygon`, `sides=6`. Empty if nothing is known by that word.
    """
    key = word.strip().lower()
    for choice in sorted(file.choices, key=lambda one: one != name):
        entry = file.choices[choice]
        if key in entry.also:
            return tuple(entry.also[key].split())
        if key in entry.options:
            return (f"{choice}={key}",)
    return ()
