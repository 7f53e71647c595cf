"""An option that takes one value is given once: of two, one would be left out unsaid."""

from typing import Any

from typer.core import TyperCommand, TyperOption


class Command(TyperCommand):
    """A command that refuses what is given twice."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Read the words typed; the help that they may ask for comes first."""
        typed = list(args)
        rest = super().parse_args(ctx, args)
        if not ctx.resilient_parsing:
            _, _, given = self.make_parser(ctx).parse_args(typed)
            twice = [
                one for one in dict.fromkeys(given) if given.count(one) > 1 and _takes_one(one)
            ]
            if twice:
                ctx.fail(" ".join(f"{one.opts[0]} is given twice." for one in twice))
        return rest


def _takes_one(parameter: object) -> bool:
    return isinstance(parameter, TyperOption) and not parameter.is_flag and not parameter.multiple
