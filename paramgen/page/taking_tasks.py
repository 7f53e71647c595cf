"""Taking a project: the view, and what writes the pack or one file of it."""

from collections.abc import Generator, Iterator, Sequence
from pathlib import Path, PurePosixPath

from paramgen.booklet.booklet_length import BookletLength
from paramgen.files.formats import FORMATS
from paramgen.making import Made
from paramgen.ordering.letters_papers_lack import check_letters
from paramgen.ordering.order_from_words import UnderstoodRequest
from paramgen.pack.earlier_project import AnotherProjectError, made_before
from paramgen.pack.file_names import project_name
from paramgen.pack.pack_files import PackWork
from paramgen.pack.put_in_place import check_place, place
from paramgen.page.desk import Desk
from paramgen.page.filled_templates import filled
from paramgen.page.long_jobs import JobResult, JobStage, JobState, Told
from paramgen.page.project_parts import ShownProject
from paramgen.page.typed_address import entries_of
from paramgen.page.ways import WAYS
from paramgen.page.zip_of_files import zipped
from paramgen.reference.paper_sizes import default_paper, listed_papers
from paramgen.vocabulary.findings import CannotMakeError, InputError, WriteError
from paramgen.vocabulary.frozen_data import dataclass
from paramgen.wording.say import said, sentence

#: All of it, as one file.
WHOLE = "zip"

#: What each file is, by how its name begins or ends.
_TITLES = (
    ("templates.pdf", "Templates at full size, to print and cut along"),
    ("fit-sheet.pdf", "Fit sheet: every line at true size, to lay over the hoop"),
    ("booklet.html", "Booklet for a screen"),
    ("booklet.pdf", "Booklet to print"),
    ("wall-strip.pdf", "The steps on a page to pin to the wall"),
)

_MEDIA = {
    ".pdf": "application/pdf",
    ".html": "text/html",
    ".svg": "image/svg+xml",
    ".json": "application/json",
}

#: How much longer papers take than other files: common on our own machine, it moves a bar only.
_PAPER_TAKES = 12.0


@dataclass(frozen=True)
class FileToTake:
    """A file of the pack that is of use without the others."""

    name: str
    title: str

    @property
    def shown(self) -> str:
        """Its name without its folder."""
        return PurePosixPath(self.name).name


def take_page(table: Desk, query: str, out: str) -> str:
    """The page on which a project is taken.

    Parameters
    ----------
    table : Desk
    query : str
    out : str
        The folder in which packs may be put; empty if there is none.
    """
    shown = ShownProject(table, query)
    made = shown.made
    wanted = shown.wanted
    files: Sequence[FileToTake] = ()
    if made is not None and wanted is not None:
        names = _work(made, wanted).to_take()
        files = tuple(FileToTake(name, _title(name)) for name in names)
    chosen = {one.name for one in wanted.formats} if wanted else set()
    return filled(
        "take.html",
        title=made.project.title if made else "nothing yet",
        shown=shown,
        entries=entries_of(shown.words),
        made=made,
        name=project_name(made) if made else "",
        out=out,
        files=files,
        kinds=[(one.name, one.title, one.name in chosen) for one in FORMATS],
        papers=listed_papers(),
        usual_paper=default_paper(shown.unit, listed_papers()).name,
        paper_now=wanted.printing.paper.name if wanted else "",
        forms=[one.value for one in BookletLength],
        form_now=wanted.form.value if wanted else "",
        ways=WAYS,
        here="/take",
        query=shown.address,
    )


def take(table: Desk, query: str, wanted: str) -> Iterator[Told]:
    """Write the whole pack as one file, or one file of it.

    Parameters
    ----------
    table : Desk
    query : str
    wanted : str
        `WHOLE`, or the name of a file of the pack.
    """
    found = _made(table, query)
    if isinstance(found, JobState):
        yield found
        return
    asked, made = found
    work = _work(made, asked)
    name = project_name(made)
    try:
        if wanted == WHOLE:
            contents = yield from _written(work)
            yield JobState(JobStage.WORKING, "Putting it all into one file", 0.99)
            yield JobResult("application/zip", f"{name}.zip", zipped({name: contents}))
            return
        yield JobState(JobStage.WORKING, f"Making {PurePosixPath(wanted).name}")
        file = work.file(wanted)
        if file is None:
            yield JobState(JobStage.REFUSED, "The pack has no file of that name.")
            return
        one = PurePosixPath(wanted)
        # Of a folder of several projects each booklet must be told from the others.
        saved = one.name if name in one.name else f"{name}-{one.name}"
        yield JobResult(_MEDIA.get(one.suffix, "application/octet-stream"), saved, file[1]())
    except (CannotMakeError, WriteError) as problem:
        yield _refused(problem, asked)


def put_in_folder(table: Desk, query: str, over: str, out: str) -> Iterator[Told]:
    """Write the pack into a folder of its own, below one that was named when the page was opened.

    Parameters
    ----------
    table : Desk
    query : str
    over : str
        Not empty if another project that is there is to be replaced.
    out : str
        Where folders of projects go. Nothing of the path is ever taken from the page.
    """
    if not out:
        yield JobState(JobStage.REFUSED, "No folder was named when this page was opened.")
        return
    found = _made(table, query)
    if isinstance(found, JobState):
        yield found
        return
    asked, made = found
    folder = Path(out) / project_name(made)
    try:
        check_place(folder)
        again = made_before(made, folder, replaces=bool(over))
        work = _work(made, asked)
        contents = yield from _written(work)
        yield JobState(JobStage.WORKING, "Putting it in place", 0.99)
        place(contents, folder)
    except AnotherProjectError as problem:
        says = f"{folder} holds another project: {problem.differs}. Nothing was changed."
        yield JobState(JobStage.REFUSED, says, facts=(("another", "yes"),))
        return
    except (CannotMakeError, WriteError) as problem:
        yield _refused(problem, asked)
        return
    instead = ", in place of what was made there before" if again else ""
    yield JobState(JobStage.WORKING, f"Made {folder}{instead}", 1.0)
    yield JobResult("text/plain", "", str(folder).encode())


def _work(made: Made, asked: UnderstoodRequest) -> PackWork:
    return PackWork(
        made=made,
        formats=asked.formats,
        printing=asked.printing,
        form=asked.form,
        cloths=asked.cloths,
    )


def _made(table: Desk, query: str) -> tuple[UnderstoodRequest, Made] | JobState:
    """What is asked for and what it comes to; else why there is nothing to take."""
    try:
        asked = table.understood(query)
        check_letters(asked)
    except InputError as problem:
        return JobState(JobStage.REFUSED, " ".join(map(str, problem.faults)))
    attempt = table.attempt(asked)
    if attempt.faults:
        return JobState(JobStage.REFUSED, " ".join(map(str, attempt.faults)))
    if attempt.made is None:
        return _refused(CannotMakeError(attempt.findings), asked)
    return asked, attempt.made


def _refused(problem: CannotMakeError | WriteError, asked: UnderstoodRequest) -> JobState:
    if isinstance(problem, WriteError):
        return JobState(JobStage.REFUSED, str(problem))
    unit = asked.order.unit
    told = [sentence(said(one, unit)[0]) for one in problem.findings if one.stops]
    return JobState(JobStage.REFUSED, f"It cannot be made as asked. {' '.join(told)}")


def _written(work: PackWork) -> Generator[JobState, None, dict[str, bytes]]:
    """Write every file of a pack, saying which."""
    contents: dict[str, bytes] = {}
    yield JobState(JobStage.WORKING, "Drawing", 0.0)
    todo = list(work.files())
    takes = [_PAPER_TAKES if name.endswith(".pdf") else 1.0 for name, _ in todo]
    for place_in_turn, (name, write) in enumerate(todo):
        share = sum(takes[:place_in_turn]) / sum(takes)
        yield JobState(JobStage.WORKING, f"Making {name}", round(share, 3))
        contents[name] = write()
    return {name: contents[name] for name in sorted(contents)}


def _title(name: str) -> str:
    """What a file is."""
    path = PurePosixPath(name)
    if path.parts[0] == "stitch":
        ends = [one for one in FORMATS if path.name.endswith(one.ending)]
        kind = max(ends, key=lambda one: len(one.ending))
        return f"Stitch file {kind.name}: {kind.title}"
    if path.parts[0] == "cutting":
        return f"Outlines for a cutting machine: {path.stem.replace('-', ' ')}"
    return dict(_TITLES).get(name, name)
