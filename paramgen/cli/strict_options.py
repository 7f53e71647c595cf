"""What is typed is read strictly: an option of one value once, and none that is not there."""

from collections.abc import Iterator, Mapping
from itertools import zip_longest
from typing import Any, NoReturn

import typer
from typer.core import TyperCommand, TyperOption

from paramgen.cli.exit_status import WRONG


class StrictCommand(TyperCommand):
    """A command that refuses what is given twice, and says what is meant by what it has not."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Read the words typed; the help that they may ask for comes first."""
        args = list(_with_values(args))
        typed = list(args)
        if not ctx.resilient_parsing and "--help" not in typed:
            self._known(ctx, typed)
            if any(one.name == "recipe" and one.required for one in self.params):
                values, _, _ = self.make_parser(ctx).parse_args(list(args))
                if not values.get("recipe"):
                    _say_which_recipe(str(ctx.info_name))
        rest = super().parse_args(ctx, args)
        if not ctx.resilient_parsing:
            _, _, given = self.make_parser(ctx).parse_args(typed)
            twice = [
                one for one in dict.fromkeys(given) if given.count(one) > 1 and _takes_one(one)
            ]
            if twice:
                ctx.fail(" ".join(_given_twice(one.opts[0]) for one in twice))
        return rest

    def _known(self, ctx: Any, typed: list[str]) -> None:
        """Say what is meant by options that it has not, all at once."""
        if ctx.parent is None or all(_is_known(word, _options(self)) for word in typed):
            return
        from paramgen.cli.command_that_makes import command
        from paramgen.cli.misplaced_options import unknown_options
        from paramgen.cli.text_tables import fault_text

        others = ctx.parent.command.commands
        commands = {name: _options(one) for name, one in others.items()}
        faults, meant = unknown_options(str(ctx.info_name), typed, commands)
        for fault in faults:
            typer.echo(fault_text(fault), err=True)
        if meant:
            typer.echo(f"What is meant, perhaps\n  {command(meant)}", err=True)
        if faults:
            raise typer.Exit(WRONG)


def _say_which_recipe(command: str) -> NoReturn:
    """List the recipes where none is named."""
    from paramgen.cli.text_tables import fault_text
    from paramgen.recipe.read_recipe import listed
    from paramgen.vocabulary.findings import Fault

    known = list(listed())
    hint = f"There are {', '.join(known)}. A file of your own ends in .toml."
    hint += f" Write, say, paramgen {command} {known[0]}."
    typer.echo(fault_text(Fault("no recipe is named", command, hint=hint)), err=True)
    raise typer.Exit(WRONG)


def _given_twice(option: str) -> str:
    """Say that an option is given twice, and where another command takes several, which."""
    several = {
        "--holds": " It is made for one kind of thing. For several, `paramgen fit RECIPE` takes "
        "--hold for each, and tells what to make."
    }
    return f"{option} is given twice.{several.get(option, '')}"


def _options(command: Any) -> Mapping[str, bool]:
    """Options of a command by name, and whether each is followed by a value."""
    options = [one for one in command.params if isinstance(one, TyperOption)]
    return {"--help": False, **{name: not one.is_flag for one in options for name in one.opts}}


def _is_known(word: str, options: Mapping[str, bool]) -> bool:
    return not word.startswith("--") or word == "--" or word.partition("=")[0] in options


#: What an option means that is given without its value.
_ALONE = {"--largest": "both", "--smallest": "both"}


def _with_values(words: list[str]) -> Iterator[str]:
    """Words, where what an option means alone is said."""
    for word, after in zip_longest(words, words[1:], fillvalue="--"):
        yield word
        if word in _ALONE and after.startswith("--"):
            yield _ALONE[word]


def _takes_one(parameter: object) -> bool:
    return isinstance(parameter, TyperOption) and not parameter.is_flag and not parameter.multiple
