"""Where findings and closing lines go: in full to a terminal, below each other and above a bar; else one a line."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from repslate.cli import report
from repslate.source.finding import Finding

if TYPE_CHECKING:
    from rich.console import Console


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

    return Console(highlight=False, emoji=False, markup=False)
