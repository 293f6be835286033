"""What is written about the package runs as it stands, and its types hold."""

from __future__ import annotations

import doctest
import subprocess
import sys
from pathlib import Path

import pytest

import evenfall

OWN = Path(__file__).parents[1]


def test_examples_in_docstrings_hold() -> None:
    found = doctest.testmod(evenfall)
    assert found.attempted >= 4 and found.failed == 0


def test_the_ten_lines_of_the_readme_make_a_figure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("matplotlib").use("Agg")
    pytest.importorskip("pandas")
    monkeypatch.chdir(tmp_path)
    text = (OWN / "README.md").read_text(encoding="utf-8")
    program = text.split("```python\n")[1].split("```")[0]
    exec(compile(program, "README.md", "exec"), {})
    assert (tmp_path / "cu-by-wheel.png").stat().st_size > 10_000


@pytest.mark.parametrize("path", sorted((OWN / "notebooks").glob("*.ipynb")), ids=lambda path: path.stem)
def test_a_notebook_runs_to_its_end(path: Path, tmp_path: Path) -> None:
    nbformat = pytest.importorskip("nbformat")
    nbclient = pytest.importorskip("nbclient")
    pytest.importorskip("matplotlib")
    book = nbformat.read(path, as_version=4)
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    book.metadata["kernelspec"] = kernel
    nbclient.NotebookClient(book, timeout=300, resources={"metadata": {"path": str(tmp_path)}}).execute()
    figures = [out for cell in book.cells for out in cell.get("outputs", ()) if "image/png" in out.get("data", {})]
    assert figures, "a notebook shows a figure"


def test_the_types_hold() -> None:
    pytest.importorskip("mypy")
    words = ["-m", "mypy", "--strict", "--python-executable", sys.executable, "-p", "evenfall"]
    words += ["--config-file", str(OWN / "pyproject.toml")]
    done = subprocess.run([sys.executable, *words], capture_output=True, text=True, cwd=OWN / "tests")
    assert done.returncode == 0, done.stdout
