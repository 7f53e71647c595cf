"""The pack of a row, which says of itself what it was made from."""

from collections.abc import Iterator, Mapping
from functools import cached_property

from paramgen.drawings.front_end.framed_picture import FramedPicture
from paramgen.drawings.pictures.finished_views import finished_sheets
from paramgen.grading.kept_rows import ROW, row_file
from paramgen.grading.row_job import RowJob
from paramgen.grading.summary_entry import SummaryEntry, entry_of
from paramgen.making import Made
from paramgen.ordering.order_from_words import UnderstoodRequest
from paramgen.pack.pack_files import FileToWrite, PackWork
from paramgen.vocabulary.frozen_data import dataclass


@dataclass(frozen=True)
class RowWork:
    """The pack of a row, file by file.

    Parameters
    ----------
    job : RowJob
    wanted : UnderstoodRequest
    made : Made
        What it came to.
    """

    job: RowJob
    wanted: UnderstoodRequest
    made: Made

    def files(self) -> Iterator[FileToWrite]:
        """Every file but what it says of itself; see `PackWork` for what is raised."""
        wanted = self.wanted
        yield from PackWork(
            made=self.made,
            formats=wanted.formats,
            printing=wanted.printing,
            papers=self.job.papers,
            besides=(ROW,),
            finished=self._finished,
            form=wanted.form,
            cloths=wanted.cloths,
        ).files()

    def entry(self, files: Mapping[str, bytes]) -> SummaryEntry:
        """What a summary says of it."""
        return entry_of(self.made, self._finished[0], self.job.folder.name, _sorted(files))

    def whole(self, files: Mapping[str, bytes], entry: SummaryEntry) -> dict[str, bytes]:
        """Its files with what it says of itself."""
        files = _sorted(files)
        return {**files, ROW: row_file(entry, self.job.made_from, files)}

    @cached_property
    def _finished(self) -> tuple[FramedPicture, ...]:
        return finished_sheets(self.made.thing, self.wanted.cloths)


def _sorted(files: Mapping[str, bytes]) -> dict[str, bytes]:
    return {name: files[name] for name in sorted(files)}
