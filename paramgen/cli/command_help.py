"""What the commands are called and said to do: one place for help of any kind."""

import textwrap

SUMMARY = (
    "Re-derive an in-hoop sewing project for any finished size and hoop: cut sizes, stitched "
    "lines, drawings and stitch files."
)

COMMANDS = {
    "list": "Show the recipes.",
    "about": "Show a recipe's sizes, limits, choices and steps.",
    "new": "Begin a recipe of your own, from a few answers.",
    "make": "Make a project: a folder of stitch files, drawings and papers.",
    "check": "Work everything out as make does, and write nothing.",
    "fit": "Find what size works, which hoop takes it, and what it holds.",
    "grade": "Make every row of a table, and a summary of them side by side.",
    "kit": "Say what to buy for many of a project, and how to cut it.",
    "page": "Show a project in the browser; it follows each size you change.",
    "read": "Show what is in a stitch file; check it against a hoop or plan.",
    "hoops": "Show the listed hoops.",
    "settings": "Say once which hoops, stitch files, unit and paper are yours.",
    "things": "Show the listed things to hold.",
    "schema": "Print the JSON schema of plan.json, a recipe, a part or kit.json.",
}

AFTERWORD = """\
Lengths are millimetres unless they name a unit: 114, 11.4cm, 4.5in, "4 1/2in".

  paramgen make coaster --hoop 130x180
  paramgen make fold-wallet width=4.75in "height=6 3/4in" --hoop 5x7in
"""


def top_help() -> str:
    """Help for the program as a whole."""
    width = max(len(name) for name in COMMANDS) + 2
    rows = "\n".join(f"  {name:<{width}}{text}" for name, text in COMMANDS.items())
    return f"""\
Usage: paramgen COMMAND ...

{textwrap.fill(SUMMARY, 78)}

Commands:
{rows}

`paramgen COMMAND --help` says more. --version, --install-completion and
--show-completion do what they say.

{AFTERWORD}"""
