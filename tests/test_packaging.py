"""What a person installs holds what the program needs."""

from __future__ import annotations

import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SHIPPED = ("themes", "sample_sessions")


def tree(folder: str) -> set[str]:
    """Files of a top-level folder, as paths from the top."""
    return {str(path.relative_to(ROOT)) for path in (ROOT / folder).rglob("*") if path.is_file()}


@pytest.fixture(scope="module", name="built")
def _built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the sdist, and the wheel from it, without reaching for the network."""
    out = tmp_path_factory.mktemp("dist")
    subprocess.run(
        [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(out), str(ROOT)],
        check=True, capture_output=True,
    )  # fmt: skip
    return out


@pytest.mark.long
class TestBuilt:
    """The built distributions."""

    def test_the_wheel_carries_the_data(self, built: Path) -> None:
        """Themes, samples and the catalogue are inside the wheel, under the package."""
        names = set(zipfile.ZipFile(next(built.glob("*.whl"))).namelist())
        for folder in SHIPPED:
            assert {f"vatside/{name}" for name in tree(folder)} <= names
        assert "vatside/catalogue/data/fibres.toml" in names
        assert "vatside/py.typed" in names

    def test_the_sdist_carries_what_the_wheel_needs(self, built: Path) -> None:
        """Themes, samples and tests are inside the sdist."""
        with tarfile.open(next(built.glob("*.tar.gz"))) as archive:
            names = {name.split("/", 1)[1] for name in archive.getnames() if "/" in name}
        for folder in SHIPPED:
            assert tree(folder) <= names

    def test_an_unpacked_wheel_finds_its_data(self, built: Path, tmp_path: Path) -> None:
        """From the wheel alone, in another folder, the samples and themes are found and a sheet is printed."""
        zipfile.ZipFile(next(built.glob("*.whl"))).extractall(tmp_path)
        code = (
            "from vatside.storage.places import samples_folder, themes_folder\n"
            f"import vatside; assert vatside.__file__.startswith(r'{tmp_path}'), vatside.__file__\n"
            "print(len(list(samples_folder().glob('*.json'))), len(list(themes_folder().glob('*.toml'))))"
        )
        done = subprocess.run(
            [sys.executable, "-c", code], cwd=tmp_path, env={"PYTHONPATH": str(tmp_path), "PATH": ""},
            capture_output=True, text=True, check=True,
        )  # fmt: skip
        samples, themes = (int(number) for number in done.stdout.split())
        assert samples == len(list((ROOT / "sample_sessions").glob("*.json"))) > 0
        assert themes == len(list((ROOT / "themes").glob("*.toml"))) > 0


def test_this_installation_finds_its_data() -> None:
    """The installation under test (editable or not) finds samples and themes."""
    from vatside.storage.places import samples_folder, themes_folder

    assert list(samples_folder().glob("*.json"))
    assert list(themes_folder().glob("*.toml"))


def test_the_top_level_is_what_it_should_be() -> None:
    """Nothing but the agreed files and folders stands at the top."""
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False
    ).stdout.splitlines()  # fmt: skip
    tops = {name.split("/")[0] for name in listed if not name.startswith(".")}
    assert tops <= {"README.md", "DEVELOPERS.md", "pyproject.toml", "src", "themes", "tests", "sample_sessions"}
