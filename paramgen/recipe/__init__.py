"""Recipe files: read strictly, checked whole, frozen.

`language.py` is the one declaration of the language; `templates/README.md` explains it to who
writes recipes, and a test holds that to every key and option. Files are read with pydantic, strict,
frozen, nothing extra; its complaints are put in the words of the file (`reader_faults.py`), and
lines are looked up in the text (`key_lines.py`), as the standard reader of TOML does not tell them.
"""
