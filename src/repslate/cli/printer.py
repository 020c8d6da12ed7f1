"""Where findings and closing lines go: in full to a terminal, below each other and above a bar; else one a line."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from repslate.cli import report

if TYPE_CHECKING:
    from rich.console import Console

    from repslate.source.finding import Finding


class Visible(io.TextIOBase):
    """A stream that shows control characters in place of sending them, whoever prints: we, Typer's usage errors, help.

    It has no `buffer`, through which a library could write past it.
    """

    def __init__(self, stream: TextIO) -> None:
        self.stream = stream

    @property
    def encoding(self) -> str:  # type: ignore[override]  # a plain attribute in the stubs
        """The encoding of what is below."""
        return self.stream.encoding

    @property
    def errors(self) -> str | None:  # type: ignore[override]
        """What is done with characters that the encoding lacks."""
        return self.stream.errors

    def writable(self) -> bool:
        """Tell that one may write."""
        return True

    def isatty(self) -> bool:
        """Tell whether it is a terminal."""
        return self.stream.isatty()

    def fileno(self) -> int:
        """Return the system's number of the stream."""
        return self.stream.fileno()

    def flush(self) -> None:
        """Send what was written."""
        self.stream.flush()

    def write(self, text: str) -> int:
        """Write lines, each of them made visible."""
        self.stream.write("\n".join(map(report.visible, text.split("\n"))))
        return len(text)


@contextmanager
def made_visible() -> Iterator[None]:
    """Let everything that is printed, by whomever, go through Visible."""
    below = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = map(Visible, below)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = below


class Printer:
    """Prints to standard output; `plain` asks for one line a finding and nothing else, also on a terminal."""

    def __init__(self, *, plain: bool = False) -> None:
        self.plain = plain
        self.console = None if plain or not sys.stdout.isatty() else _console()

    def findings(self, findings: Sequence[Finding], folder: Path) -> None:
        """Print the findings of one episode."""
        for finding in findings:
            if self.console is None:
                print(report.line(finding, folder))
            else:
                report.full(finding, folder, self.console)

    def close(self, folder: Path, text: str) -> None:
        """Print the closing line of one episode, where not every line has to be a finding."""
        line = report.visible(f"{folder}: {text}")
        if self.console is not None:
            self.console.print(line, soft_wrap=True)
        elif not self.plain:
            print(line)

    def each(self, episodes: Sequence[Path], doing: str) -> Iterator[Path]:
        """Yield the episodes, with a bar below what is printed if there are several and this is a terminal."""
        if self.console is None or len(episodes) < 2:
            yield from episodes
            return
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

        # The same console, or the bar and the findings would write over each other.
        columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
        with Progress(*columns, console=self.console, transient=True) as progress:
            yield from progress.track(episodes, description=doing)


def _console() -> Console:
    from rich.console import Console

    # What it prints was made visible word by word; its own colours must get through.
    below = sys.stdout.stream if isinstance(sys.stdout, Visible) else sys.stdout
    return Console(file=below, highlight=False, emoji=False, markup=False)
