"""Where the program starts."""

import gc
import os
import sys

from paramgen.cli import screen
from paramgen.cli.unforeseen import guarded


def main() -> None:
    """Run the command line, and leave with the status that says what became of it."""
    screen.prepare()
    # What else is installed has no say in how a recipe is read, and looking for it takes time.
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"
    # The threads that numpy starts for large matrices are never used here, and starting them takes
    # a tenth of a `check`.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    sys.exit(guarded(_answer))


def _answer() -> None:
    """Answer what was asked.

    The commands that people wait for least are answered before anything heavy is loaded;
    everything else goes to the full command line.
    """
    quick = _quick_answer(sys.argv[1:])
    if quick is None:
        _run()
    else:
        sys.stdout.write(quick)


def _run() -> None:
    if sys.argv[1:2] == ["page"] and not {"-h", "--help"}.intersection(sys.argv):
        from paramgen.page.process_start import load_early  # noqa: PLC0415

        load_early()
    # A run is short: looking for garbage takes longer than what it finds is worth.
    gc.disable()
    try:
        from paramgen.cli.app import app  # noqa: PLC0415

        app(prog_name="paramgen")
    finally:
        # All of it ends with the run; looking through it once more took a fifth of that.
        gc.freeze()
        gc.enable()


def _quick_answer(asked: list[str]) -> str | None:
    """Text of a list or of the help; None if it takes the full command line."""
    # A shell that wants completions asks by this variable, without any words.
    if "_PARAMGEN_COMPLETE" in os.environ:
        return None
    if asked == ["list"]:
        from paramgen.cli.recipe_list import recipe_list  # noqa: PLC0415

        return recipe_list()
    if asked in (["hoops"], ["things"]):
        from paramgen.cli.known_report import known_report  # noqa: PLC0415
        from paramgen.vocabulary.findings import ParamgenError  # noqa: PLC0415

        try:
            return known_report("hoops" if asked == ["hoops"] else "things")
        except ParamgenError:
            return None  # the full command line says what is wrong
    if len(asked) == 2 and asked[0] == "about" and not asked[1].startswith("-"):
        return _about(asked[1])
    if asked in ([], ["--help"]):
        from paramgen.cli.command_help import top_help  # noqa: PLC0415

        return top_help()
    return None


def _about(recipe: str) -> str | None:
    """What a recipe asks and does; None if the full command line says what is wrong."""
    gc.disable()
    from paramgen.cli.recipe_report import recipe_report  # noqa: PLC0415
    from paramgen.ordering.settings_filled_in import unit_shown  # noqa: PLC0415
    from paramgen.recipe.read_recipe import find_recipe  # noqa: PLC0415
    from paramgen.vocabulary.findings import ParamgenError  # noqa: PLC0415

    try:
        return recipe_report(find_recipe(recipe), unit_shown(""))
    except ParamgenError:
        return None
    finally:
        gc.freeze()
        gc.enable()


if __name__ == "__main__":
    main()
