"""Recipe files: read strictly, checked whole, frozen.

`language.py` is the one declaration of the language; `templates/README.md` explains it to who
writes recipes, and a test holds that to every key and option. Files are read with pydantic, strict,
frozen, nothing extra; its complaints are put in the words of the file (`reader_faults.py`), and
lines are looked up in the text (`key_lines.py`), as the standard reader of TOML does not tell them.

A recipe's parts are joined to it before any of that, as plain tables (`join_parts.py`), so that
all that comes after knows one recipe. A part is first checked on its own (`read_part.py`), with
something of each kind that it needs in its place; what it needs is then put in term by term
(`part_in_use.py`), found by the declaration (`declared_terms.py`). It is no macro on the text: a
formula stays one term, and each key keeps the file and line it is from.
"""
