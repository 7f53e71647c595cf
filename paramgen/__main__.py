"""Where the program starts."""

import sys


def main() -> None:
    """Run the command line.

    The two commands that people wait for least are answered before anything heavy is
    loaded; everything else goes to the full command line.
    """
    asked = sys.argv[1:]
    if asked in ([], ["--help"], ["list"]):
        from paramgen.cli.recipes import recipe_list  # noqa: PLC0415
        from paramgen.cli.words import top_help  # noqa: PLC0415

        sys.stdout.write(recipe_list() if asked == ["list"] else top_help())
        return
    from paramgen.cli.app import run  # noqa: PLC0415

    run()


if __name__ == "__main__":
    main()
